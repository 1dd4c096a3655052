"""The whole visit, or one part of it: checks, holds, causes, next reading, next steps, outcome."""

from dataclasses import dataclass, replace
from typing import Any

from service.checks.air.air_side import check_air
from service.checks.electrical.bench import check_electrical
from service.checks.refrigerant.charge import check_charge
from service.checks.refrigerant.compressor import check_compressor
from service.checks.refrigerant.cooling import check_cooling
from service.checks.refrigerant.running_state import running_values
from service.checks.refrigerant.start_up import check_start_up
from service.reasoning.causes import rank_causes
from service.reasoning.cautions import gather_cautions
from service.reasoning.charge_outvoted import without_outvoted_charge
from service.reasoning.circumstances import standing_weights
from service.reasoning.contradicted import set_aside
from service.reasoning.cycle_findings import check_cycle, missing_for_cycle
from service.reasoning.cycle_weighing import CycleWeighing, ask_cycle, weigh
from service.reasoning.expected import expected_computed, loss_computed
from service.reasoning.flammable import flammable_hold, is_flammable
from service.reasoning.holds import raise_holds
from service.reasoning.next_readings import next_readings
from service.reasoning.outcome import decide, must_stay_off, outcome_state
from service.reasoning.standstill import hums, stands_still
from service.reasoning.steps import plan_steps
from service.results.answer import Answer
from service.results.computed import Computed
from service.results.cycle import CycleLoss, CycleVerdict
from service.results.visit import Visit
from service.verdicts.report import Checked


def assess(visit: Visit) -> Answer:
    """Judge a visit as a whole."""
    electrical, cooling = check_electrical(visit), check_cooling(visit)
    inputs, verdict = ask_cycle(visit)
    cooling = without_outvoted_charge(cooling, verdict)
    computed: Computed = replace(
        cooling.computed,
        electrical=electrical.computed,
        loss=loss_computed(verdict.loss if verdict is not None else None),
    )
    checked = (electrical, cooling, check_cycle(inputs, verdict))
    return conclude(visit, checked, computed, Cycle(weigh(inputs, verdict), verdict), whole=True)


def judge_electrical(visit: Visit) -> Answer:
    """Electrical verdicts alone."""
    checked = check_electrical(visit)
    return conclude(visit, (checked,), Computed(electrical=checked.computed))


def judge_charge(visit: Visit) -> Answer:
    """Charge status alone."""
    checked = check_charge(visit)
    return conclude(visit, (checked,), Computed(running=running_values(visit), charge=checked.computed))


def judge_air(visit: Visit) -> Answer:
    """The air side alone."""
    checked = check_air(visit)
    return conclude(visit, (checked,), Computed(air=checked.computed))


def judge_compressor(visit: Visit) -> Answer:
    """The pump alone."""
    pump, start = check_compressor(visit), check_start_up(visit)
    computed = Computed(running=running_values(visit), start_up=start.computed, compressor=pump.computed)
    return conclude(visit, (pump, start), computed)


def judge_expected(visit: Visit) -> Answer:
    """What this unit would read here and now if sound, and once its leading fault is repaired."""
    inputs, verdict = ask_cycle(visit)
    computed = expected_computed(visit, inputs, verdict)
    checked = (check_cycle(inputs, verdict), Checked(missing=missing_for_cycle(visit)))
    return conclude(visit, checked, computed, Cycle(weigh(inputs, verdict), verdict))


@dataclass(frozen=True, slots=True)
class Cycle:
    """What the cycle model says, where it was asked."""

    weighing: CycleWeighing | None = None
    verdict: CycleVerdict | None = None


NOT_ASKED = Cycle()


def conclude(
    visit: Visit, checked: tuple[Checked, ...], computed: object, cycle: Cycle = NOT_ASKED, *, whole: bool = False
) -> Answer:
    """From findings to the answer; only a whole visit gets an outcome."""
    findings = set_aside([finding for check in checked for finding in check.findings])
    flammable = is_flammable(visit)
    standing = standing_weights(visit, running_read=cycle.weighing is not None)
    causes = rank_causes(findings, visit.complaint, cycle.weighing, circumstances=standing)
    holds = flammable_hold(visit, findings, raise_holds(findings), causes, whole=whole)
    state = outcome_state(visit, findings, holds, causes)
    off = must_stay_off(visit, findings, holds, causes, state=state)
    brief = stands_still(visit, findings)
    # Everything the complaint calls for was read and is in order: nothing is left worth its minutes.
    done = whole and state == "sound"
    steps = (
        () if done else plan_steps(visit, findings, holds, causes, flammable, off=off, brief=brief, whole=whole)
    )
    asked = () if done else next_readings(visit, holds, causes, cycle.verdict, off=off, brief=brief)
    return Answer(
        computed=computed,
        findings=findings,
        holds=holds,
        causes=causes,
        next_readings=asked,
        next_steps=steps,
        cautions=gather_cautions(visit, findings, holds, steps, flammable, hums=hums(visit, findings)),
        assumptions=tuple(item for check in checked for item in check.assumptions),
        missing=tuple(item for check in checked for item in check.missing),
        outcome=decide(visit, findings, holds, causes, steps, _loss(cycle), state=state) if whole else None,
    )


def _loss(cycle: Cycle) -> CycleLoss | None:
    return None if cycle.verdict is None else cycle.verdict.loss


def conclude_procedure(request: Any, checked: Checked) -> Answer:
    """The answer of a repair procedure: its own findings and steps; nothing else is asked for or restarted.

    request: a procedure's request; its equipment, site and refrigerant tell what cautions belong to the work. The
    circuit is open, under nitrogen or under vacuum meanwhile, so causes of another fault add no steps.
    """
    visit = _visit_of(request)
    flammable = is_flammable(visit)
    holds = flammable_hold(visit, checked.findings, raise_holds(checked.findings), ())
    steps = plan_steps(visit, checked.findings, holds, (), flammable, off=True)
    return Answer(
        computed=checked.computed,
        findings=checked.findings,
        holds=holds,
        causes=rank_causes(checked.findings, visit.complaint),
        next_steps=steps,
        cautions=gather_cautions(visit, checked.findings, holds, steps, flammable, opens_circuit=True),
        assumptions=checked.assumptions,
        missing=checked.missing,
    )


def _visit_of(request: Any) -> Visit:
    equipment = request.equipment
    named = getattr(request, "refrigerant", None)
    return Visit(
        units=request.units,
        site_pressure=request.site_pressure,
        site=request.site,
        equipment=replace(equipment, refrigerant=named) if named is not None else equipment,
        visit_date=request.visit_date,
    )
