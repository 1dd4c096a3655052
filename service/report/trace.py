"""The points of a refrigerant cycle in pressure and enthalpy, as far as the readings tell them."""

from collections.abc import Mapping

from service.knowledge.refrigerant import Refrigerant
from service.results.expected import ExpectedRunning, RangeOf
from service.results.out_of_range import OutOfRange
from service.results.record import Record
from service.results.visit.cooling import Running

SUCTION, DISCHARGE, LIQUID, INLET = "suction", "discharge", "liquid", "inlet"
PRESSURES = "pressures"  # said in place of the whole cycle
LOSSLESS = "lossless"
"""End of the compression if it had no losses: drawn where the discharge line was not read."""


class Point(Record):
    """enthalpy [J/kg], pressure [Pa absolute], and the temperature read there [K], if any."""

    enthalpy: float
    pressure: float
    temperature: float | None = None


class CycleTrace(Record):
    """points by name; low and high: pressures read [Pa]; absent: readings that would place a point;
    outside: points whose readings do not fit the state they stand for, or PRESSURES where suction is not below
    the high side."""

    points: Mapping[str, Point]
    low: float | None
    high: float | None
    absent: tuple[str, ...] = ()
    outside: tuple[str, ...] = ()


def trace_running(refrigerant: Refrigerant, running: Running) -> CycleTrace:
    """The cycle of the running readings."""
    return _trace(
        refrigerant,
        {
            "suction_pressure": running.suction_pressure,
            "liquid_pressure": running.liquid_pressure,
            "discharge_pressure": running.discharge_pressure,
            "suction_line_temperature": running.suction_line_temperature,
            "liquid_line_temperature": running.liquid_line_temperature,
            "discharge_line_temperature": running.discharge_line_temperature,
        },
    )


def trace_expected(refrigerant: Refrigerant, running: ExpectedRunning) -> CycleTrace:
    """The cycle of a sound unit here and now, by the likeliest of its expected readings."""
    return _trace(
        refrigerant,
        {
            "suction_pressure": _likely(running.suction_pressure),
            "liquid_pressure": _likely(running.liquid_pressure),
            "suction_line_temperature": _likely(running.suction_line_temperature),
            "liquid_line_temperature": _likely(running.liquid_line_temperature),
            "discharge_line_temperature": _likely(running.discharge_line_temperature),
        },
    )


def _likely(found: RangeOf | None) -> float | None:
    return None if found is None else found.likely


# Which readings place which point; the first is its pressure.
NEEDED = {
    SUCTION: ("suction_pressure", "suction_line_temperature"),
    DISCHARGE: ("high_pressure", "discharge_line_temperature"),
    LIQUID: ("liquid_pressure", "liquid_line_temperature"),
}
PLACING = (
    "suction_pressure",
    "liquid_pressure",
    "suction_line_temperature",
    "liquid_line_temperature",
    "discharge_line_temperature",
)


def _trace(refrigerant: Refrigerant, read: Mapping[str, float | None]) -> CycleTrace:
    given = {name: value for name, value in read.items() if value is not None}
    for name, other in (("high_pressure", "discharge_pressure"), ("high_pressure", "liquid_pressure")):
        if other in given:
            given.setdefault(name, given[other])
    low, high = given.get("suction_pressure"), given.get("high_pressure")
    if low is not None and high is not None and low >= high:
        # Both gauges on one side, or a heat pump in its other mode: no compressor made these two of each other.
        return CycleTrace({}, None, None, outside=(PRESSURES,))
    points: dict[str, Point] = {}
    outside = []
    for name, needed in NEEDED.items():
        if all(reading in given for reading in needed):
            try:
                points[name] = _point(refrigerant, name, *(given[reading] for reading in needed))
            except OutOfRange:
                outside.append(name)
    points |= _derived(refrigerant, points, given, DISCHARGE in outside)
    absent = tuple(name for name in PLACING if name not in given)
    return CycleTrace(points, low, high, absent, tuple(outside))


def _point(refrigerant: Refrigerant, name: str, pressure: float, temperature: float) -> Point:
    """Vapour at the compressor's ends, liquid at its valve. Raises: OutOfRange where it must be another state."""
    properties = refrigerant.properties
    if name != LIQUID:
        return Point(properties.superheated.enthalpy(pressure, temperature), pressure, temperature)
    bubble = refrigerant.saturation.bubble_temperature(pressure)
    if temperature > bubble:
        raise OutOfRange("temperature", temperature, 0.0, bubble)
    return Point(properties.saturated.liquid_enthalpy(temperature), pressure, temperature)


def _derived(
    refrigerant: Refrigerant, points: Mapping[str, Point], given: Mapping[str, float], contradicts: bool
) -> dict[str, Point]:
    """What follows: the metering device keeps the enthalpy; a compression without losses keeps the entropy."""
    found = {}
    if LIQUID in points and "suction_pressure" in given:
        found[INLET] = Point(points[LIQUID].enthalpy, given["suction_pressure"])
    if SUCTION in points and DISCHARGE not in points and "high_pressure" in given and not contradicts:
        end = _lossless(refrigerant, points[SUCTION], given["high_pressure"])
        if end is not None:
            found[LOSSLESS] = end
    return found


def _lossless(refrigerant: Refrigerant, suction: Point, pressure: float) -> Point | None:
    vapour = refrigerant.properties.superheated
    if suction.temperature is None:
        return None
    try:
        entropy = vapour.entropy(suction.pressure, suction.temperature)
        return Point(vapour.isentropic_enthalpy(pressure, entropy), pressure)
    except OutOfRange:
        return None
