"""Numbers that make no sense in the unit given and good sense in another one."""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import RunningState
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.physics.saturation import SaturationCurve
from service.results.finding import Finding, State
from service.results.out_of_range import OutOfRange
from service.results.pointers import present_pointers
from service.results.record import replace
from service.results.units import TABLE, Units, from_si, to_si
from service.results.visit import Visit
from service.verdicts.mode import judges_cooling
from service.verdicts.report import report

Ranges = dict[str, tuple[LimitCode, LimitCode]]
# Saturation temperatures of comfort cooling, by gauge: at all, and commonly.
PLAUSIBLE: Ranges = {
    "suction_pressure": ("readings.suction-plausible-lowest", "readings.suction-plausible-highest"),
    "liquid_pressure": ("readings.liquid-plausible-lowest", "readings.liquid-plausible-highest"),
}
ORDINARY: Ranges = {
    "suction_pressure": ("readings.suction-ordinary-lowest", "readings.suction-ordinary-highest"),
    "liquid_pressure": ("readings.liquid-ordinary-lowest", "readings.liquid-ordinary-highest"),
}


def check_units(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Temperatures and pressures that were probably read in another unit than the request says."""
    yield from _all_in_doubt(visit, (*_return_air(visit), *_outdoor_air(visit), *_liquid_line(visit, state)))
    if state.refrigerant is not None:
        yield from _pressure(visit, state.refrigerant.saturation)


def _all_in_doubt(visit: Visit, slips: tuple[Finding, ...]) -> Iterator[Finding]:
    """A thermometer that shows another unit on one reading puts every temperature of the visit in doubt."""
    if not slips:
        return
    first = slips[0]
    others = tuple(sorted(pointer for pointer in present_pointers(visit) if _is_temperature(pointer)))
    yield replace(first, evidence=tuple(dict.fromkeys((*first.evidence, *others))))


def _is_temperature(pointer: str) -> bool:
    return pointer.startswith(("/running/", "/air/", "/standing/")) and pointer.endswith(("_temperature", "_bulb"))


def _outdoor_air(visit: Visit) -> Iterator[Finding]:
    """Nobody cools a room by a condenser in such air, and the number is an ordinary day in the other unit."""
    low, high = limit("readings.outdoor-air-lowest").value, limit("readings.outdoor-air-highest").value
    outdoor = visit.air.outdoor_dry_bulb
    if judges_cooling(visit) and _is_far_from_head(visit):
        yield from _temperature(visit, "/air/outdoor_dry_bulb", outdoor, low, high)


def _is_far_from_head(visit: Visit) -> bool:
    """The line temperatures say a warmer day: the liquid line lies far over the outdoor air."""
    liquid, outdoor = visit.running.liquid_line_temperature, visit.air.outdoor_dry_bulb
    if liquid is None or outdoor is None:
        return False
    return liquid - outdoor > limit("readings.liquid-over-outdoor").value


def _return_air(visit: Visit) -> Iterator[Finding]:
    """Nobody cools a room that is near freezing or near boiling."""
    low, high = limit("readings.indoor-air-lowest").value, limit("readings.indoor-air-highest").value
    yield from _temperature(visit, "/air/return_dry_bulb", visit.air.return_dry_bulb, low, high)


def _liquid_line(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Liquid far colder or far warmer than its own saturation, and near it in the other unit."""
    saturated, most = state.liquid_saturation_temperature, limit("refrigerant.most-subcooling").value
    if state.subcooling is not None and saturated is not None:
        low, high = saturated.value - most, saturated.value + most
        read = visit.running.liquid_line_temperature
        yield from _temperature(visit, "/running/liquid_line_temperature", read, low, high)


def _temperature(visit: Visit, pointer: str, value: float | None, low: float, high: float) -> Iterator[Finding]:
    """A temperature [K] outside its bounds whose number lies inside them in another unit."""
    if value is None or low <= value <= high:
        return
    number = from_si(value, "temperature", visit.units, visit.site_pressure)
    for code in TABLE["temperature"]:
        if low <= to_si(number, "temperature", Units(temperature=code), 0.0) <= high:
            values = {"given": visit.units.temperature, "likely": code}
            yield report("readings.wrong-unit", State.FAIL, (pointer,), values=values)


def _pressure(visit: Visit, curve: SaturationCurve) -> Iterator[Finding]:
    """Both gauges together: implausible as given, and one other unit puts both where a running unit has them."""
    given = {name: getattr(visit.running, name) for name in PLAUSIBLE}
    if None in given.values() or _within(given, curve, PLAUSIBLE):
        return
    numbers = {name: from_si(value, "pressure", visit.units, visit.site_pressure) for name, value in given.items()}
    fitting = [
        code
        for code in TABLE["pressure"]
        if code != visit.units.pressure and _within(_read_as(numbers, code, visit.site_pressure), curve, ORDINARY)
    ]
    if fitting:
        values = {"given": visit.units.pressure, "likely": fitting[0]}
        yield report(
            "readings.wrong-unit", State.FAIL, tuple(f"/running/{name}" for name in PLAUSIBLE), values=values
        )


def _read_as(numbers: dict[str, float], code: str, site_pressure: float) -> dict[str, float]:
    units = Units(pressure=code)
    return {name: to_si(number, "pressure", units, site_pressure) for name, number in numbers.items()}


def _within(pressures: dict[str, float], curve: SaturationCurve, ranges: Ranges) -> bool:
    """Both saturations lie where comfort cooling has them."""
    try:
        temperatures = {name: curve.dew_temperature(value) for name, value in pressures.items()}
    except OutOfRange:
        return False
    return all(
        limit(lowest).value <= temperatures[name] <= limit(highest).value
        for name, (lowest, highest) in ranges.items()
    )
