"""The 24 V control circuit: transformer, fuse, crankcase heater, and the trace along the call."""

from service.checks.electrical.control_levels import is_fed, is_unfed
from service.checks.electrical.control_trace import check_trace
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import electrical, electrical_uncertainty
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE = "/electrical/control"


def check_control(visit: Visit) -> Checked:
    """Judge the control supply, then trace the call to the coil.

    Source: circuit logic (hop-scotch of a series circuit); 24 V plus and minus 10 %: common practice.
    """
    trace = check_trace(visit)
    heater = as_proven(_heater(visit), dead_is_proven(visit))
    findings = _secondary(visit) + _fuse(visit) + _coil_volts(visit) + trace.findings + heater
    return Checked(findings, _missing(visit) + trace.missing)


def _secondary(visit: Visit) -> tuple[Finding, ...]:
    """Dead (E13, E14), wrong tap (E15), low under load, or in order."""
    volts = visit.electrical.control.secondary_volts
    if volts is None:
        return ()
    if is_unfed(volts):
        return (_dead_secondary(visit),)
    low, high = limit("control.secondary-low"), limit("control.secondary-high")
    state, variant = State.PASS, ""
    if below(volts, limit("control.wrong-tap-low").value):
        state, variant = State.FAIL, "low"
    elif below(volts, low.value):
        state, variant = State.REVIEW, "tap-low"
    elif not below(volts, limit("control.wrong-tap-high").value):
        state, variant = State.REVIEW, "tap-high"
    elif above(volts, high.value):
        state, variant = State.REVIEW, "high"
    return (
        report(
            "control.secondary-voltage",
            state,
            (f"{BASE}/secondary_volts",),
            measured=electrical(visit, volts, "volts"),
            limit=low.bounds(low.value, high.value),
            confidence=confidence(volts, electrical_uncertainty(visit, volts), low.value, high.value),
            variant=variant,
        ),
    )


def _dead_secondary(visit: Visit) -> Finding:
    control = visit.electrical.control
    evidence = given(control, BASE, ("secondary_volts", "primary_volts"))
    if control.primary_volts is None:
        return report("control.transformer", State.UNDECIDED, evidence)
    if control.primary_volts < limit("isolation.hazardous-volts").value:
        return report("control.primary-dead", State.FAIL, evidence)
    return report("control.transformer", State.FAIL, evidence)


def _fuse(visit: Visit) -> tuple[Finding, ...]:
    blown = visit.electrical.control.fuse_open
    if blown is None:
        return ()
    return (report("control.fuse", State.FAIL if blown else State.PASS, (f"{BASE}/fuse_open",)),)


def _coil_volts(visit: Visit) -> tuple[Finding, ...]:
    """Fed, but with less than what must pull a contactor in: it chatters and burns (E04)."""
    volts = visit.electrical.control.coil_volts
    if volts is None or is_unfed(volts):
        return ()
    line = limit("control.pick-up")
    return (
        report(
            "control.coil-voltage",
            State.PASS if is_fed(volts) else State.FAIL,
            (f"{BASE}/coil_volts",),
            measured=electrical(visit, volts, "volts"),
            limit=line.as_low(),
            confidence=confidence(volts, electrical_uncertainty(visit, volts), low=line.value),
        ),
    )


def _heater(visit: Visit) -> tuple[Finding, ...]:
    """Crankcase heater open (E21): liquid refrigerant gathers in the oil."""
    reading = visit.electrical.control.crankcase_heater_resistance
    if reading is None:
        return ()
    state = State.FAIL if reading.over_limit else State.PASS
    return (report("control.crankcase-heater", state, (f"{BASE}/crankcase_heater_resistance",)),)


def _missing(visit: Visit) -> tuple[Missing, ...]:
    control = visit.electrical.control
    if is_unfed(control.secondary_volts) and control.primary_volts is None:
        return (Missing(f"{BASE}/primary_volts", "control.primary"),)
    return ()
