"""The 24 V control circuit: transformer, fuse, crankcase heater, and the trace along the call."""

from service.checks.electrical.control_levels import is_fed, is_unfed
from service.checks.electrical.control_trace import check_trace
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import electrical, electrical_uncertainty
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE, LINE = "/electrical/control", "/electrical/supply/idle_volts"
TAPS = (115.0, 120.0, 208.0, 230.0, 240.0, 277.0, 460.0, 480.0)  # primary voltages of ANSI C84.1 systems


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
    state, variant = _of_secondary(visit, volts, low.value, high.value)
    by_line = () if variant != "wrong-tap" or visit.electrical.control.primary_volts else (LINE,)
    return (
        report(
            "control.secondary-voltage",
            state,
            (*given(visit.electrical.control, BASE, ("secondary_volts", "primary_volts")), *by_line),
            measured=electrical(visit, volts, "volts"),
            limit=low.bounds(low.value, high.value),
            confidence=confidence(volts, electrical_uncertainty(visit, volts), low.value, high.value),
            variant=variant,
        ),
    )


def _of_secondary(visit: Visit, volts: float, low: float, high: float) -> tuple[State, str]:
    """State and variant: its primary tells a wrong tap from a failing transformer, and a high line from either."""
    tap = _fits_another_tap(visit, volts)
    if below(volts, low):
        if tap:
            return State.FAIL, "wrong-tap"
        far = below(volts, limit("control.wrong-tap-low").value)
        return (State.FAIL, "low") if far else (State.REVIEW, "tap-low")
    unloaded = visit.electrical.control.fuse_open and not tap  # a transformer that feeds nothing reads high
    if not below(volts, limit("control.wrong-tap-high").value) and not unloaded:
        return State.REVIEW, "tap-high"
    return (
        (State.REVIEW, "high") if above(volts, high + electrical_uncertainty(visit, volts)) else (State.PASS, "")
    )


def _fits_another_tap(visit: Visit, volts: float) -> bool:
    """Whether secondary over primary is the ratio of a tap that the line is not on."""
    primary = visit.electrical.control.primary_volts or _line_of_one_cabinet(visit)
    if not primary:
        return False
    near = limit("control.tap-percent").value / 100.0
    ratio, nominal = volts / primary, limit("control.nominal").value
    own = min(TAPS, key=lambda tap: abs(tap - primary))
    return any(tap != own and abs(ratio * tap / nominal - 1.0) <= near for tap in TAPS)


def _line_of_one_cabinet(visit: Visit) -> float | None:
    """Where everything is in one cabinet, the line at rest feeds the transformer too."""
    return visit.electrical.supply.idle_volts if kind_row(visit.equipment.kind).one_cabinet else None


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
    line, source = limit("control.pick-up"), visit.electrical.control.secondary_volts
    lost = _is_lost_on_the_way(source, volts)
    return (
        report(
            "control.coil-voltage",
            State.PASS if is_fed(volts) else State.FAIL,
            given(visit.electrical.control, BASE, ("coil_volts", "secondary_volts") if lost else ("coil_volts",)),
            measured=electrical(visit, volts, "volts"),
            limit=line.as_low(),
            confidence=confidence(volts, electrical_uncertainty(visit, volts), low=line.value),
            values={"source": electrical(visit, source, "volts")} if lost and source is not None else None,
            variant="lost" if lost else "at-source" if _is_low_at_the_source(visit) else "",
        ),
    )


def _is_low_at_the_source(visit: Visit) -> bool:
    """True where the transformer is on the wrong tap and a coil that is not fed gets most of what it puts out: the
    tap is moved first, and nothing is traced."""
    volts = visit.electrical.control.coil_volts
    tapped = any(item.state is State.FAIL and item.variant == "wrong-tap" for item in _secondary(visit))
    return tapped and volts is not None and not is_fed(volts)


def _is_lost_on_the_way(source: float | None, volts: float) -> bool:
    """True where a coil that is not fed misses more on its way than at the transformer.

    Parameters
    ----------
    source
        Transformer secondary [V]; None where it was not read. volts: across the coil [V].
    """
    if source is None or not is_fed(source) or is_fed(volts):
        return False
    short = limit("control.nominal").value - source
    return not below(source, limit("control.secondary-low").value) or above(source - volts, short)


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
