"""Readings of windings to the shell: which one counts, and whether the test was made rightly."""

from math import inf

from service.checks.electrical.motor_kind import INVERTER, motor_kind
from service.checks.electrical.nameplate import marked_volts
from service.knowledge.limits import limit
from service.physics.insulation import REFERENCE, corrected
from service.results.visit import Visit

BASE = "/electrical/insulation"
TESTER = "insulation_tester"
OHMMETER = "ohmmeter"
TERMINALS = (
    "common_to_shell",
    "run_to_shell",
    "start_to_shell",
    "one_to_shell",
    "two_to_shell",
    "three_to_shell",
)
TIMED = ("megohms_at_10_s", "megohms_at_60_s")


def shell_readings(visit: Visit) -> dict[str, float | None]:
    """Every reading to the shell by its member name.

    Returns
    -------
    [ohm]; None where the meter showed over-limit

    References
    ----------
    The visit, as it was read.
    """
    insulation = visit.electrical.insulation
    found: dict[str, float | None] = {
        name: reading.resistance.ohms for name in TERMINALS if (reading := getattr(insulation, name)) is not None
    }
    timed = {name: value for name in TIMED if (value := getattr(insulation, name)) is not None}
    return {**found, **timed}


def lowest_reading(visit: Visit) -> tuple[str, float | None]:
    """Pointer and value of the lowest reading.

    Returns
    -------
    [ohm]; None when all were over the limit

    References
    ----------
    The visit, as it was read.
    """
    found = shell_readings(visit)
    name = min(found, key=lambda key: inf if (value := found[key]) is None else value)
    return f"{BASE}/{name}", found[name]


def rated_volts(visit: Visit) -> float:
    """Rated volts of the unit, the higher where two are marked; a usual value where none is given.

    Returns
    -------
    [V]

    References
    ----------
    The nameplate; else the row `insulation.usual-rated-volts`.
    """
    marked = marked_volts(visit)
    return limit("insulation.usual-rated-volts").value if marked is None else marked[1]


def judged_at_40_c(visit: Visit, value: float) -> float:
    """The reading brought to 40 °C where that raises it.

    A cold motor may hold liquid refrigerant, which lowers the reading by itself: correcting that down to 40 °C
    would fail a good one, so below 40 °C the reading stands as it was read.

    Parameters
    ----------
    value : [ohm], 0 or more

    Returns
    -------
    [ohm]

    References
    ----------
    IEEE 43-2013; below 40 °C common practice, no source.
    """
    temperature = visit.electrical.insulation.winding_temperature
    if temperature is None or temperature <= REFERENCE:
        return value
    return corrected(value, temperature)


def invalid_reason(visit: Visit) -> str:
    """Why the test says nothing (G8), or an empty text."""
    insulation = visit.electrical.insulation
    if insulation.under_vacuum:
        return "vacuum"
    if insulation.drive_unplugged is False and motor_kind(visit) in (INVERTER, None):
        return "drive"
    volts = insulation.test_volts
    if volts is not None and volts > limit("insulation.highest-test-volts").value:
        return "volts"
    return ""


def instrument(visit: Visit) -> str:
    """What it was read with; test volts, timed readings and a maker's minimum belong to an insulation tester."""
    insulation = visit.electrical.insulation
    if insulation.instrument is not None:
        return insulation.instrument
    tester = (insulation.test_volts, insulation.minimum_megohms, *(getattr(insulation, name) for name in TIMED))
    return TESTER if any(value is not None for value in tester) else OHMMETER
