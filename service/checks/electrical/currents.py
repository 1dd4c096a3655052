"""Running and starting current of the compressor against the nameplate; fan and blower amps."""

from service.checks.electrical.meters import electrical, electrical_uncertainty, ratio_percent_uncertainty
from service.checks.electrical.motor_kind import INVERTER, motor_kind
from service.checks.electrical.supply import line_volts
from service.knowledge.limits import limit
from service.physics.motors import maximum_continuous_current, power_factor, rated_load_amps
from service.results.computed import CurrentsComputed
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.asked import asked_of
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE, COMPRESSOR = "/electrical/currents", "/equipment/compressor"
MCC = "maximum_continuous_current"


def check_currents(visit: Visit) -> Checked:
    """Judge compressor, fan and blower amps.

    Source: NEC 440.52 (156 % of rated-load amps); 110 % and 50 %: common practice; RLA is no target.
    """
    compressor = _locked_while_running(visit) if _stays_locked(visit) else _compressor(visit)
    findings = compressor + _starting(visit) + _fan(visit)
    return Checked(findings, _missing(visit), computed=_computed(visit))


def rated_amps(visit: Visit) -> float | None:
    """Rated-load amps of the nameplate, else from the maximum continuous current.

    Returns
    -------
    [A]; None where neither is given

    References
    ----------
    The nameplate; NEC 440.52(A)(2).
    """
    plate = visit.equipment.compressor
    if plate.rated_load_amps:
        return plate.rated_load_amps
    return rated_load_amps(plate.maximum_continuous_current) if plate.maximum_continuous_current else None


def _running(visit: Visit) -> tuple[str, float] | None:
    """Pointer and amps of the compressor: its own reading, else the highest line of three."""
    currents = visit.electrical.currents
    if currents.compressor_amps is not None:
        return f"{BASE}/compressor_amps", currents.compressor_amps
    lines = {name: getattr(currents, name) for name in ("amps_a", "amps_b", "amps_c")}
    if None in lines.values():
        return None
    name = max(lines, key=lambda key: lines[key])
    return f"{BASE}/{name}", lines[name]


def load_percent(visit: Visit) -> float | None:
    """Compressor amps over rated-load amps.

    Returns
    -------
    [%]; None where either is not given

    References
    ----------
    Definition.
    """
    read, rated = _running(visit), rated_amps(visit)
    return None if read is None or rated is None else 100.0 * read[1] / rated


def _nothing_drawn(visit: Visit, pointer: str) -> Finding:
    """No current says something only where the compressor is asked to run."""
    asked = asked_of(visit)
    if asked.outdoor_may_stand:
        by = (pointer, *asked.outdoor_by)
        return report("currents.compressor-none", State.NOT_APPLICABLE, by, variant="not-asked")
    return report("currents.compressor-none", State.REVIEW, (pointer,))


def _compressor(visit: Visit) -> tuple[Finding, ...]:
    read, rated = _running(visit), rated_amps(visit)
    if read is None or rated is None:
        return ()
    percent = 100.0 * read[1] / rated
    ceiling = visit.equipment.compressor.maximum_continuous_current or maximum_continuous_current(rated)
    high, low = limit("currents.high-percent"), limit("currents.low-percent")
    if below(percent, limit("currents.none-percent").value):
        return (_nothing_drawn(visit, read[0]),)
    if above(read[1], ceiling):
        return (_load(visit, "currents.compressor-high", State.FAIL, percent, 100.0 * ceiling / rated, "ceiling"),)
    if above(percent, high.value):
        return (_load(visit, "currents.compressor-high", State.REVIEW, percent, high.value),)
    if below(percent, low.value) and not _may_be_low(visit):
        return (_load(visit, "currents.compressor-low", State.REVIEW, percent, low.value),)
    return (_load(visit, "currents.compressor-normal", State.PASS, percent, high.value),)


def _stays_locked(visit: Visit) -> bool:
    """Amps that stay near locked-rotor amps after the start: the rotor stands, nothing is overloaded."""
    amps, plate = visit.electrical.currents.compressor_amps, visit.equipment.compressor.locked_rotor_amps
    if amps is None or not plate or motor_kind(visit) == INVERTER:
        return False
    return not below(100.0 * amps / plate, limit("currents.locked-rotor-percent").value)


def _locked_while_running(visit: Visit) -> tuple[Finding, ...]:
    """Said once: starting amps that were read and timed speak for themselves."""
    currents, plate = visit.electrical.currents, visit.equipment.compressor.locked_rotor_amps
    if currents.compressor_amps is None or not plate or currents.compressor_starting_amps is not None:
        return ()
    return (_locked(visit, State.FAIL, 100.0 * currents.compressor_amps / plate, ("compressor_amps",)),)


def _locked(visit: Visit, state: State, percent: float, names: tuple[str, ...]) -> Finding:
    line, width = limit("currents.locked-rotor-percent"), electrical_uncertainty(visit, percent)
    return report(
        "currents.locked-rotor",
        state,
        (*given(visit.electrical.currents, BASE, names), f"{COMPRESSOR}/locked_rotor_amps"),
        measured=Quantity(percent, "percent", width),
        limit=line.as_high(),
        confidence=confidence(percent, width, high=line.value),
    )


def _may_be_low(visit: Visit) -> bool:
    return motor_kind(visit) == INVERTER or bool(visit.running.unloaded)


def _load(visit: Visit, code: str, state: State, percent: float, line: float, variant: str = "") -> Finding:
    read = _running(visit)
    assert read is not None
    width = electrical_uncertainty(visit, percent)
    low = line if code == "currents.compressor-low" else None
    high = None if low is not None else line
    applied = limit("currents.ceiling" if variant else "currents.high-percent")
    return report(
        code,
        state,
        (read[0], *given(visit.equipment.compressor, COMPRESSOR, ("rated_load_amps", MCC))),
        measured=Quantity(percent, "percent", width),
        limit=applied.bounds(low, high, "percent"),
        confidence=confidence(percent, width, low, high),
        variant=variant,
    )


def _starting(visit: Visit) -> tuple[Finding, ...]:
    """Current that stays near locked-rotor amps: the motor does not turn (W17)."""
    currents, plate = visit.electrical.currents, visit.equipment.compressor.locked_rotor_amps
    amps = currents.compressor_starting_amps
    if amps is None or not plate:
        return ()
    percent, line = 100.0 * amps / plate, limit("currents.locked-rotor-percent")
    seconds = currents.seconds_at_starting_amps
    state = State.PASS
    if not below(percent, line.value):
        state = State.UNDECIDED if seconds is None else State.FAIL
        if seconds is not None and not above(seconds, limit("currents.locked-rotor-seconds").value):
            state = State.PASS
    return (_locked(visit, state, percent, ("compressor_starting_amps", "seconds_at_starting_amps")),)


def _fan(visit: Visit) -> tuple[Finding, ...]:
    """Outdoor fan amps against its full-load amps."""
    amps, plate = visit.electrical.currents.outdoor_fan_amps, visit.equipment.outdoor_fan.full_load_amps
    if amps is None or not plate:
        return ()
    highest = limit("currents.high-percent").value / 100.0 * plate
    idle = below(100.0 * amps / plate, limit("currents.none-percent").value)
    return (
        report(
            "currents.outdoor-fan",
            State.REVIEW if idle or above(amps, highest) else State.PASS,
            (f"{BASE}/outdoor_fan_amps", "/equipment/outdoor_fan/full_load_amps"),
            measured=electrical(visit, amps, "amps"),
            limit=Bounds("amps", "request", limit("currents.high-percent").cited, high=highest),
            confidence=confidence(amps, electrical_uncertainty(visit, amps), high=highest),
            variant="none" if idle else "",
        ),
    )


def _computed(visit: Visit) -> CurrentsComputed:
    currents, plate = visit.electrical.currents, visit.equipment.compressor
    percent = load_percent(visit)
    load = locked = None
    if percent is not None:
        load = Quantity(percent, "percent", electrical_uncertainty(visit, percent))
    if currents.compressor_starting_amps is not None and plate.locked_rotor_amps:
        percent = 100.0 * currents.compressor_starting_amps / plate.locked_rotor_amps
        locked = Quantity(percent, "percent", electrical_uncertainty(visit, percent))
    return CurrentsComputed(load, locked, _power_factor(visit))


def _power_factor(visit: Visit) -> Quantity | None:
    """From watts where they were read, never above 1; else as read."""
    currents, volts, read = visit.electrical.currents, line_volts(visit), _running(visit)
    if currents.compressor_watts is None or volts is None or read is None or not read[1]:
        return None if currents.power_factor is None else Quantity(currents.power_factor, "ratio")
    value = power_factor(currents.compressor_watts, volts, read[1], visit.equipment.phases or 1)
    return Quantity(value, "ratio", ratio_percent_uncertainty(visit, value))


def _missing(visit: Visit) -> tuple[Missing, ...]:
    currents, plate, found = visit.electrical.currents, visit.equipment.compressor, []
    if _running(visit) is not None and rated_amps(visit) is None:
        found.append(Missing(f"{COMPRESSOR}/rated_load_amps", "currents.rated"))
    if currents.compressor_starting_amps is not None and not plate.locked_rotor_amps:
        found.append(Missing(f"{COMPRESSOR}/locked_rotor_amps", "currents.locked-rotor"))
    if currents.compressor_starting_amps is not None and currents.seconds_at_starting_amps is None:
        found.append(Missing(f"{BASE}/seconds_at_starting_amps", "currents.seconds"))
    return tuple(found)
