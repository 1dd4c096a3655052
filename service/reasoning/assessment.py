"""The whole visit, or one part of it: checks, holds, causes, next reading, next steps, outcome."""

from dataclasses import replace

from service.checks.cooling import check_air, check_charge, check_compressor, check_cooling
from service.checks.electrical import check_electrical
from service.checks.report import Checked
from service.reasoning.causes import rank_causes
from service.reasoning.cautions import gather_cautions
from service.reasoning.flammable import flammable_hold, is_flammable
from service.reasoning.holds import raise_holds
from service.reasoning.next_readings import next_readings
from service.reasoning.outcome import decide
from service.reasoning.steps import plan_steps
from service.results.answer import Answer
from service.results.computed import Computed
from service.results.visit import Visit


def assess(visit: Visit) -> Answer:
    """Judge a visit as a whole."""
    electrical, cooling = check_electrical(visit), check_cooling(visit)
    computed: Computed = replace(cooling.computed, electrical=electrical.computed)
    return conclude(visit, (electrical, cooling), computed, whole=True)


def judge_electrical(visit: Visit) -> Answer:
    """Electrical verdicts alone."""
    checked = check_electrical(visit)
    return conclude(visit, (checked,), Computed(electrical=checked.computed), whole=False)


def judge_charge(visit: Visit) -> Answer:
    """Charge status alone."""
    checked = check_charge(visit)
    return conclude(visit, (checked,), checked.computed, whole=False)


def judge_air(visit: Visit) -> Answer:
    """The air side alone."""
    checked = check_air(visit)
    return conclude(visit, (checked,), checked.computed, whole=False)


def judge_compressor(visit: Visit) -> Answer:
    """The pump alone."""
    checked = check_compressor(visit)
    return conclude(visit, (checked,), checked.computed, whole=False)


def conclude(visit: Visit, checked: tuple[Checked, ...], computed: object, *, whole: bool) -> Answer:
    """From findings to the answer; only a whole visit gets an outcome."""
    findings = tuple(finding for check in checked for finding in check.findings)
    flammable = is_flammable(visit)
    causes = rank_causes(findings, visit.complaint)
    holds = flammable_hold(visit, findings, raise_holds(findings), causes)
    steps = plan_steps(visit, findings, holds, causes, flammable)
    return Answer(
        computed=computed,
        findings=findings,
        holds=holds,
        causes=causes,
        next_readings=next_readings(visit, holds, causes, {}),
        next_steps=steps,
        cautions=gather_cautions(visit, findings, holds, steps, flammable),
        assumptions=tuple(item for check in checked for item in check.assumptions),
        missing=tuple(item for check in checked for item in check.missing),
        outcome=decide(visit, findings, holds, causes, steps) if whole else None,
    )
