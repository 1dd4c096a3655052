"""Compressor windings to the shell: ohmmeter, insulation tester, ratio and trend."""

from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.insulation_quality import check_quality, width
from service.checks.electrical.insulation_readings import (
    BASE,
    TESTER,
    instrument,
    invalid_reason,
    judged_at_40_c,
    lowest_reading,
    rated_volts,
    shell_readings,
)
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import combined
from service.checks.electrical.motor_kind import SINGLE_PHASE, motor_kind
from service.knowledge.limits import limit
from service.physics.insulation import corrected, reading_ratio
from service.results.computed import InsulationComputed
from service.results.finding import Assumption, Bounds, Confidence, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below, confidence
from service.verdicts.report import Checked, report


def check_insulation(visit: Visit) -> Checked:
    """Judge winding to shell; the maker's minimum goes first, the polarization index never counts.

    Source: IEEE 43-2013 (40 C, halving rule, 5 Mohm for motors of 1 hp and above); US Army
    TM 55-1905-223-24-17 (60 s/10 s ratio); 1000 ohm per volt: common practice.
    """
    if not shell_readings(visit):
        return Checked(computed=InsulationComputed())
    reason = invalid_reason(visit)
    findings = _discarded(visit, reason) if reason else _judge(visit)
    computed = InsulationComputed() if reason else _computed(visit)
    return Checked(as_proven(findings, dead_is_proven(visit)), _missing(visit), _assumed(visit), computed)


def _judge(visit: Visit) -> tuple[Finding, ...]:
    grounded = _grounded(visit)
    rest = check_quality(visit) if grounded.state is State.PASS else ()
    return (grounded, *rest)


def _grounded_line(visit: Visit) -> float:
    """1000 ohm per volt, the older trade rule [ohm]."""
    return limit("insulation.ohms-per-volt").value * rated_volts(visit)


def _grounded(visit: Visit) -> Finding:
    """W12, W13, T06: any finite ohmmeter reading matters; the maker's minimum decides where it is given."""
    pointer, value = lowest_reading(visit)
    if value is None:
        return _said(visit, State.PASS, pointer, None, None)
    minimum = visit.electrical.insulation.minimum_megohms
    if minimum is not None:
        return _against_maker(visit, pointer, value, minimum)
    line = _grounded_line(visit)
    applied = limit("insulation.ohms-per-volt").bounds(low=line, kind="megohms")
    if below(value, line):
        return _said(visit, _ground_state(visit), pointer, value, applied)
    if instrument(visit) != TESTER:
        return _finite(visit, pointer, value, applied)
    incipient = limit("insulation.incipient")
    if below(value, incipient.value):
        return _said(visit, State.UNDECIDED, pointer, value, incipient.as_low(), "incipient")
    return _said(visit, State.PASS, pointer, value, incipient.as_low())


def _finite(visit: Visit, pointer: str, value: float, applied: Bounds) -> Finding:
    """A finite ohmmeter reading above 1000 ohm per volt: look again; three phases and inverters stay off (T06)."""
    if not below(value, limit("insulation.good").value):
        return _said(visit, State.PASS, pointer, value, applied)
    if motor_kind(visit) in (None, SINGLE_PHASE):
        return _said(visit, State.REVIEW, pointer, value, applied)
    return _said(visit, State.UNDECIDED, pointer, value, applied, "finite")


def _against_maker(visit: Visit, pointer: str, value: float, minimum: float) -> Finding:
    applied = Bounds("megohms", "request", "maker's minimum, as posted", low=minimum)
    if not below(value, minimum):
        return _said(visit, State.PASS, pointer, value, applied)
    if not below(judged_at_40_c(visit, value), minimum):
        return _said(visit, State.UNDECIDED, pointer, value, applied, "hot")
    return _said(visit, _ground_state(visit), pointer, value, applied)


def _ground_state(visit: Visit) -> State:
    """A ground through wires left on may be somebody else's; the hold stands either way."""
    return State.UNDECIDED if visit.inspection.wires_off_terminals is False else State.FAIL


def _said(
    visit: Visit, state: State, pointer: str, value: float | None, applied: Bounds | None, variant: str = ""
) -> Finding:
    names = ("instrument", "minimum_megohms", "winding_temperature")
    wires_on = state is State.UNDECIDED and not variant
    sure = Confidence.FIRM
    if value is not None and applied is not None:
        sure = confidence(value, width(visit, value), low=applied.low)
    return report(
        "insulation.winding-grounded",
        state,
        (pointer, *given(visit.electrical.insulation, BASE, names)),
        measured=None if value is None else Quantity(value, "megohms", width(visit, value)),
        limit=applied,
        confidence=sure,
        variant="wires-on" if wires_on else variant or ("over-limit" if value is None else ""),
    )


def _discarded(visit: Visit, reason: str) -> tuple[Finding, ...]:
    """G8: a test made wrongly says nothing; a low reading keeps its hazard all the same."""
    pointer, value = lowest_reading(visit)
    names = ("test_volts", "under_vacuum", "drive_unplugged", "instrument")
    evidence = (pointer, *given(visit.electrical.insulation, BASE, names))
    findings = [report("insulation.test-not-valid", State.UNDECIDED, evidence, variant=reason)]
    line = visit.electrical.insulation.minimum_megohms or _grounded_line(visit)
    if value is not None and below(value, line):
        findings.append(_said(visit, State.UNDECIDED, pointer, value, None, "not-valid"))
    return tuple(findings)


def _computed(visit: Visit) -> InsulationComputed:
    insulation = visit.electrical.insulation
    _, value = lowest_reading(visit)
    at_40 = ratio = None
    if value is not None and insulation.winding_temperature is not None:
        brought = corrected(value, insulation.winding_temperature)
        at_40 = Quantity(brought, "megohms", width(visit, brought))
    if insulation.megohms_at_10_s and insulation.megohms_at_60_s is not None:
        found = reading_ratio(insulation.megohms_at_60_s, insulation.megohms_at_10_s)
        ratio = Quantity(found, "ratio", combined(width(visit, found), width(visit, found)))
    return InsulationComputed(resistance_at_40_c=at_40, ratio_60_10=ratio)


def _missing(visit: Visit) -> tuple[Missing, ...]:
    insulation, found = visit.electrical.insulation, []
    tester = instrument(visit) == TESTER
    if insulation.instrument is None:
        found.append(Missing(f"{BASE}/instrument", "insulation.instrument"))
    if tester and insulation.minimum_megohms is None:
        found.append(Missing(f"{BASE}/minimum_megohms", "insulation.minimum"))
    if tester and insulation.winding_temperature is None:
        found.append(Missing(f"{BASE}/winding_temperature", "insulation.temperature"))
    return tuple(found)


def _assumed(visit: Visit) -> tuple[Assumption, ...]:
    found = []
    if visit.equipment.nominal_voltage is None:
        found.append(Assumption("insulation.rated-volts", "/equipment/nominal_voltage"))
    if visit.electrical.insulation.instrument is None and instrument(visit) != TESTER:
        found.append(Assumption("insulation.ohmmeter", f"{BASE}/instrument"))
    return tuple(found)
