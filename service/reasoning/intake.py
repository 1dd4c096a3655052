"""Before anybody is sent: hazards first, likely causes, what to ask, how soon, what to load, who and how long."""

from dataclasses import replace

from service.checks.electrical.bench import check_electrical
from service.checks.refrigerant.cooling import check_cooling
from service.checks.seen.complaint import check_complaint, may_be_flammable
from service.reasoning.causes import rank_causes
from service.reasoning.cautions import gather_cautions
from service.reasoning.circumstances import circumstance_weights
from service.reasoning.flammable import flammable_hold, is_flammable
from service.reasoning.holds import raise_holds
from service.reasoning.intake_notes import intake_customer_note, intake_summary, off_is_advised
from service.reasoning.leak_signs import leak_signs
from service.reasoning.loading import Preparation, prepare
from service.reasoning.next_readings import next_readings
from service.reasoning.outcome import decide, must_stay_off
from service.reasoning.questions import questions_worth_asking
from service.reasoning.steps import plan_steps
from service.results.answer import Answer, Cause, Hold, Outcome, Step
from service.results.computed import Computed
from service.results.finding import Finding
from service.results.visit import Visit


def take_in(visit: Visit) -> Answer:
    """Prepare a visit from complaint, nameplate and history; readings of an earlier visit count too."""
    electrical, cooling = check_electrical(visit), check_cooling(visit)
    findings = (*check_complaint(visit).findings, *electrical.findings, *cooling.findings)
    causes = _causes(visit, findings)
    holds = _holds(visit, findings)
    off = off_is_advised(visit) or must_stay_off(visit, findings, holds, causes)
    flammable = _may_burn(visit)
    steps = plan_steps(visit, findings, holds, causes, flammable, off=off)
    computed: Computed = replace(cooling.computed, electrical=electrical.computed)
    prepared = prepare(visit, causes, flammable)
    return Answer(
        computed=computed,
        findings=findings,
        holds=holds,
        causes=causes,
        next_readings=next_readings(visit, holds, causes, off=off),
        next_steps=steps,
        cautions=gather_cautions(visit, findings, holds, steps, flammable),
        assumptions=(*electrical.assumptions, *cooling.assumptions),
        outcome=_outcome(visit, findings, holds, causes, steps, prepared),
        questions=questions_worth_asking(visit, causes),
        load_list=prepared.load,
    )


def _causes(visit: Visit, findings: tuple[Finding, ...]) -> tuple[Cause, ...]:
    """A named complaint is what speaks for a fault; without one, the shares of all calls stand."""
    return rank_causes(
        findings,
        visit.complaint,
        circumstances=circumstance_weights(visit),
        called=bool(visit.complaint.symptoms),
    )


def _holds(visit: Visit, findings: tuple[Finding, ...]) -> tuple[Hold, ...]:
    """Holds of the findings; a flammable refrigerant only by a sign of a leak, for nothing is opened yet."""
    return flammable_hold(visit, findings, raise_holds(findings), ())


def _may_burn(visit: Visit) -> bool:
    """Where a leak is reported and nobody knows the refrigerant, it is taken for one that burns."""
    return is_flammable(visit) or (bool(leak_signs(visit)) and may_be_flammable(visit))


def _outcome(
    visit: Visit,
    findings: tuple[Finding, ...],
    holds: tuple[Hold, ...],
    causes: tuple[Cause, ...],
    steps: tuple[Step, ...],
    prepared: Preparation,
) -> Outcome:
    decided = decide(visit, findings, holds, causes, steps)
    permission = "keep_off" if off_is_advised(visit) else decided.run_permission
    return replace(
        decided,
        run_permission=permission,
        disposition="more_readings",
        parts=(),
        certificates=prepared.certificates,
        minutes=prepared.minutes,
        summary=intake_summary(holds, causes, permission),
        customer_note=intake_customer_note(visit, permission),
    )
