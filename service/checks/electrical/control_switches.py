"""Safety switches of the control circuit: open or closed, and whether the pressure explains it."""

from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.knowledge.refrigerant_names import reading_key
from service.results.finding import Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import above, below
from service.verdicts.report import report

BASE = "/electrical/control"
CODES = {
    "high_pressure_switch": "control.high-pressure-switch",
    "low_pressure_switch": "control.low-pressure-switch",
    "float_switch": "control.float-switch",
    "leak_sensor": "control.leak-sensor",
    "discharge_temperature_switch": "control.discharge-temperature-switch",
    "motor_protection_module": "control.motor-protection-module",
}
SWITCHES = tuple(CODES)
# The gauge pressure from which a switch has closed again, by class of refrigerant.
RESETS: dict[tuple[str, str], LimitCode] = {
    ("high", "high_pressure_switch"): "control.high-reset-high-pressure",
    ("high", "low_pressure_switch"): "control.high-reset-low-pressure",
    ("low", "high_pressure_switch"): "control.low-reset-high-pressure",
    ("low", "low_pressure_switch"): "control.low-reset-low-pressure",
}
PRESSURE_SWITCHES = ("high_pressure_switch", "low_pressure_switch")
# Refrigerants whose switches have the usual settings of one class or the other; no others are judged.
HIGH_PRESSURE = ("R-410A", "R-32", "R-454B", "R-452B")
LOW_PRESSURE = ("R-22", "R-407C", "R-421A", "R-422D", "R-427A", "R-417A")


def check_switches(visit: Visit) -> tuple[Finding, ...]:
    """One finding for each switch that was read; an open one is never bridged (E17, E18)."""
    control = visit.electrical.control
    return tuple(_switch(visit, name) for name in SWITCHES if getattr(control, name) is not None)


def open_switches(visit: Visit) -> tuple[str, ...]:
    """Names of the switches that were found open."""
    return tuple(name for name in SWITCHES if getattr(visit.electrical.control, name) == "open")


def _switch(visit: Visit, name: str) -> Finding:
    pointer = f"{BASE}/{name}"
    if getattr(visit.electrical.control, name) == "closed":
        return report(CODES[name], State.PASS, (pointer,))
    if name in PRESSURE_SWITCHES:
        seen = _pressure_past_reset(visit, name)
        if seen is not None:
            gauge, value = seen
            return report(
                CODES[name],
                State.FAIL,
                (pointer, gauge),
                measured=Quantity(value, "pressure"),
                variant="switch",
            )
    return report(CODES[name], State.FAIL, (pointer,))


def _pressure_past_reset(visit: Visit, name: str) -> tuple[str, float] | None:
    """Pointer and pressure [Pa] that should have closed the switch again, or None when it explains it (E18)."""
    kind = _class(visit)
    read = _pressure(visit, name)
    if kind is None or read is None:
        return None
    reset = limit(RESETS[kind, name]).value
    gauge_pressure = read[1] - visit.site_pressure
    wrong = below(gauge_pressure, reset) if name == "high_pressure_switch" else above(gauge_pressure, reset)
    return read if wrong else None


def _class(visit: Visit) -> str | None:
    refrigerant = visit.equipment.refrigerant
    if refrigerant is None:
        return None
    key = reading_key(refrigerant)
    if key in {reading_key(name) for name in HIGH_PRESSURE}:
        return "high"
    return "low" if key in {reading_key(name) for name in LOW_PRESSURE} else None


def _pressure(visit: Visit, name: str) -> tuple[str, float] | None:
    """The pressure that the open switch sees: standing, since the compressor is held off."""
    found = {"/standing/pressure": visit.standing.pressure}
    if name == "high_pressure_switch":
        found["/start_up/liquid_pressure_before"] = visit.start_up.liquid_pressure_before
    else:
        found["/start_up/suction_pressure_before"] = visit.start_up.suction_pressure_before
    for pointer, value in found.items():
        if value is not None:
            return pointer, value
    return None
