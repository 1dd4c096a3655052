"""The refrigerant charge: superheat, subcooling, and a status only where nothing else speaks against it.

Source of the tolerances: California Energy Commission, Reference Residential Appendix RA3.2 (2008), installer.
"""

from collections.abc import Iterator

from service.checks.plausible.refusals import refuse_impossible
from service.checks.refrigerant.charge_conditions import conditions_hold, taken_for_granted
from service.checks.refrigerant.charge_correction import size_class, weighed_correction
from service.checks.refrigerant.charge_doubts import speaking_against
from service.checks.refrigerant.charge_missing import missing_for_charge
from service.checks.refrigerant.charge_readings import (
    TARGET_SUBCOOLING,
    TARGET_SUPERHEAT,
    judge_subcooling,
    judge_superheat,
)
from service.checks.refrigerant.cooling_parts import CoolingParts, cooling_parts, unique
from service.checks.refrigerant.running_state import FIXED, VALVES, RunningState
from service.knowledge.charge_moves import MOVES
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.computed import ChargeComputed
from service.results.finding import Confidence, Finding, State
from service.results.quantity import Quantity
from service.results.record import replace
from service.results.visit import Visit
from service.verdicts.bounded import evidence, settling
from service.verdicts.judge import above, below
from service.verdicts.measured import present
from service.verdicts.mode import judges_cooling
from service.verdicts.report import Checked, report

UNDERCHARGED, CORRECT, OVERCHARGED, UNDECIDED = "undercharged", "correct", "overcharged", "undecided"
READINGS = (
    "/running/suction_pressure",
    "/running/liquid_pressure",
    "/running/suction_line_temperature",
    "/running/liquid_line_temperature",
)
TARGETS = (TARGET_SUPERHEAT, TARGET_SUBCOOLING)
DIRECTION = {UNDERCHARGED: "add", CORRECT: "none", OVERCHARGED: "remove"}


def check_charge(visit: Visit) -> Checked:
    """Judge the charge and what speaks against it; computed is a ChargeComputed.

    Raises: Refusal for a reading of the closed list.
    """
    refuse_impossible(visit)
    parts = cooling_parts(visit)
    charge = charge_of(visit, parts)
    if not charge.findings:
        return replace(charge, findings=parts.loose, missing=tuple(missing_for_charge(visit, parts.state)))
    told = charge.computed.direction
    against = speaking_against(parts.findings, *((told,) if told else MOVES))
    return replace(charge, findings=unique((*parts.loose, *against, *charge.findings)))


def charge_of(visit: Visit, parts: CoolingParts) -> Checked:
    """Judge the charge with everything else that was found at hand."""
    state, conditions = parts.state, parts.conditions
    pointers = present(visit, *READINGS)
    if not pointers:
        return Checked(computed=ChargeComputed(UNDECIDED))
    decided = conditions_hold(conditions)
    readings = (
        (*judge_superheat(visit, state, decided=decided), *judge_subcooling(visit, state, decided=decided))
        if judges_cooling(visit)
        else ()
    )
    status, verdict = _verdict(visit, parts, decided)
    missing = (*missing_for_charge(visit, state), *settling(readings))
    return Checked(
        (*conditions, *readings, *verdict, *_line_set(visit, status)),
        missing,
        taken_for_granted(visit),
        _computed(visit, state, status),
    )


def _computed(visit: Visit, state: RunningState, status: str) -> ChargeComputed:
    deviation = charge_deviation(visit, state)
    if deviation is None or status in (CORRECT, UNDECIDED):
        return ChargeComputed(status, DIRECTION.get(status))
    correction = weighed_correction(visit)
    return ChargeComputed(status, DIRECTION[status], correction, size_class(visit, deviation[0]))


def _line_set(visit: Visit, status: str) -> Iterator[Finding]:
    """Short of charge after new work, with more line than the factory charge is made for: it never got its own."""
    equipment, complaint = visit.equipment, visit.complaint
    length, included = equipment.line_length, equipment.included_line_length
    if status != UNDERCHARGED or length is None or included is None or not complaint.recent_work:
        return
    excess = length - included
    if not below(excess, limit("charge.line-set-excess").value):
        pointers = ("/equipment/line_length", "/equipment/included_line_length", "/complaint/recent_work")
        yield report("charge.line-set", State.REVIEW, pointers, measured=Quantity(excess, "length"))


def _verdict(visit: Visit, parts: CoolingParts, decided: bool) -> tuple[str, tuple[Finding, ...]]:
    deviation = charge_deviation(visit, parts.state)
    if deviation is None:
        pointers = present(visit, *READINGS)
        return UNDECIDED, (report("charge.correct", State.UNDECIDED, pointers, variant="readings"),)
    off, tolerance = deviation
    pointers = evidence(off) + present(visit, *TARGETS)
    if not decided:
        return UNDECIDED, (report("charge.correct", State.UNDECIDED, pointers, variant="conditions"),)
    status = _nominal(off.value, tolerance)
    against = speaking_against(parts.findings, DIRECTION[status])
    if against:
        theirs = tuple(pointer for finding in against for pointer in finding.evidence)
        both = tuple(dict.fromkeys((*pointers, *theirs)))
        return UNDECIDED, (report("charge.correct", State.UNDECIDED, both, variant="other-cause"),)
    return status, tuple(_status_findings(status, off, tolerance, pointers))


def charge_deviation(visit: Visit, state: RunningState) -> tuple[Uncertain, float] | None:
    """How far the reading that tells the charge lies on the short side of its target, and the tolerance.

    Superheat over target for a fixed orifice, subcooling under target for a valve: positive means short of charge.

    Returns
    -------
    [K] and [K]; None where the reading or its target is not known

    References
    ----------
    California Energy Commission, Reference Residential Appendix RA3.2 (2008), installer.
    """
    device = visit.equipment.metering_device
    if device in FIXED and state.superheat is not None and state.target_superheat is not None:
        return state.superheat - state.target_superheat, limit("charge.superheat-tolerance").value
    if device in VALVES and state.subcooling is not None and state.target_subcooling is not None:
        return state.target_subcooling - state.subcooling, limit("charge.subcooling-tolerance").value
    return None


def _nominal(off: float, tolerance: float) -> str:
    if above(off, tolerance):
        return UNDERCHARGED
    return OVERCHARGED if below(off, -tolerance) else CORRECT


def _status_findings(
    status: str, off: Uncertain, tolerance: float, pointers: tuple[str, ...]
) -> Iterator[Finding]:
    near = any(abs(off.value - edge) <= off.half_width for edge in (-tolerance, tolerance))
    sure = Confidence.BORDERLINE if near else Confidence.FIRM
    for code, meant in (("charge.undercharged", UNDERCHARGED), ("charge.overcharged", OVERCHARGED)):
        state = State.FAIL if status == meant else State.PASS
        yield report(code, state, pointers, confidence=sure)
    if status == CORRECT:
        yield report("charge.correct", State.PASS, pointers, confidence=sure)
