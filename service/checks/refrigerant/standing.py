"""Pressure with the unit off: liquid there, lost, or something that does not condense."""

from collections.abc import Callable, Iterator

from service.checks.plausible.refusals import refrigerant_in, refuse_impossible
from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.physics.saturation import SaturationCurve
from service.physics.uncertainty import Uncertain, propagate
from service.results.computed import StandingComputed
from service.results.finding import Bounds, Confidence, Finding, Missing, State
from service.results.out_of_range import OutOfRange
from service.results.record import replace
from service.results.visit import Visit
from service.verdicts.bounded import evidence, settling
from service.verdicts.judge import below
from service.verdicts.measured import measured, present
from service.verdicts.report import Checked, report

LOST, FOREIGN = "standing.liquid-lost", "standing.non-condensables"


def check_standing(visit: Visit) -> Checked:
    """Judge the standing pressure; computed is a StandingComputed.

    The pressure follows the coldest liquid: liquid is lost only below saturation at the colder of the two places,
    non-condensables are there for certain only above saturation at the warmer, and absent only at the colder:
    between the two a sound unit reads so while it settles, and so does one with foreign gas. For a blend the dew
    line counts below, the bubble line above. Raises: Refusal for a reading of the closed list.
    """
    refuse_impossible(visit)
    pressure = measured(visit, "/standing/pressure")
    if pressure is None:
        return Checked(computed=StandingComputed())
    if _too_soon(visit):
        return Checked((_undecided(visit),), computed=StandingComputed())
    refrigerant = refrigerant_in(visit)
    if _at_air_pressure(visit, pressure):
        return Checked(tuple(_empty(visit, pressure)), computed=_computed(visit, refrigerant, pressure))
    findings = tuple(_against_saturation(visit, refrigerant, pressure))
    return Checked(
        findings,
        (*_missing(visit, refrigerant), *settling(findings)),
        computed=_computed(visit, refrigerant, pressure),
    )


def _too_soon(visit: Visit) -> bool:
    minutes = visit.standing.minutes_off
    return minutes is not None and below(minutes, limit("standing.least-minutes-off").value)


def _undecided(visit: Visit) -> Finding:
    minutes = Uncertain(visit.standing.minutes_off or 0.0)
    return report(
        "standing.settled",
        State.UNDECIDED,
        present(visit, "/standing/minutes_off", "/standing/pressure"),
        measured=replace(minutes.quantity("minutes"), uncertainty=None),
        limit=limit("standing.least-minutes-off").as_low(),
    )


def _at_air_pressure(visit: Visit, pressure: Uncertain) -> bool:
    return pressure.value - visit.site_pressure <= pressure.half_width


def _empty(visit: Visit, pressure: Uncertain) -> Iterator[Finding]:
    """No pressure over the air outside: the charge is gone, whatever the refrigerant."""
    bounds = Bounds("pressure", "default", "physics", low=visit.site_pressure + pressure.half_width)
    yield report(
        LOST,
        State.FAIL,
        evidence(pressure),
        measured=pressure.quantity("pressure"),
        limit=bounds,
        variant="empty",
    )


def _against_saturation(visit: Visit, refrigerant: Refrigerant | None, pressure: Uncertain) -> Iterator[Finding]:
    places = _places(visit)
    if refrigerant is None or not places:
        return
    colder = min(places, key=lambda place: place.value)
    warmer = max(places, key=lambda place: place.value)
    curve = refrigerant.saturation
    low, high = _saturation(curve.dew_pressure, colder), _saturation(curve.bubble_pressure, warmer)
    source = f"saturation of {refrigerant.designation}"
    if low is not None:
        bounds = Bounds("pressure", "table", source, low=low.value)
        nowhere = _is_below_everywhere(visit, curve, colder, pressure)
        yield _one_side(low - pressure, pressure, bounds, code=LOST, sure=_all_known(visit) or nowhere)
    if high is not None:
        bounds = Bounds("pressure", "table", source, high=high.value)
        at_colder = _saturation(curve.bubble_pressure, colder)
        if at_colder is not None and _between(pressure - at_colder, pressure - high):
            yield _untold(pressure, high, bounds)
        else:
            yield _one_side(pressure - high, pressure, bounds, code=FOREIGN, sure=_all_known(visit))


def _between(over_colder: Uncertain, over_warmer: Uncertain) -> bool:
    """For certain above saturation at the colder of two places, and not above that at the warmer."""
    return over_colder.value > over_colder.half_width and over_warmer.value <= 0.0


def _untold(pressure: Uncertain, high: Uncertain, bounds: Bounds) -> Finding:
    """No doubt about the unit: the test cannot tell at these temperatures."""
    return report(
        FOREIGN,
        State.NOT_APPLICABLE,
        evidence(pressure - high),
        measured=pressure.quantity("pressure"),
        limit=bounds,
        variant="between",
    )


def _is_below_everywhere(visit: Visit, curve: SaturationCurve, colder: Uncertain, pressure: Uncertain) -> bool:
    """Whether no place of a house that is cooled is cold enough for liquid at this pressure, settled, whichever
    temperature was not read."""
    coldest = min(colder.value, limit("standing.coldest-indoors").value)
    least = _saturation(curve.dew_pressure, Uncertain(coldest))
    gap = least - pressure if least is not None else None
    settled = visit.standing.minutes_off is not None and visit.equipment.mode != "heating"
    return settled and gap is not None and gap.value > gap.half_width


def _one_side(excess: Uncertain, pressure: Uncertain, bounds: Bounds, *, code: str, sure: bool) -> Finding:
    """Beyond the combined accuracy it is a finding; less than that is agreement, as the gauge cannot tell."""
    beyond = excess.value > excess.half_width
    near = abs(excess.value) <= excess.half_width and excess.value > 0.0
    bad = State.FAIL if sure else State.REVIEW
    return report(
        code,
        bad if beyond else State.PASS,
        evidence(excess),
        measured=pressure.quantity("pressure"),
        limit=bounds,
        confidence=Confidence.BORDERLINE if near else Confidence.FIRM,
        variant="" if sure or not beyond else "one-temperature",
    )


def _all_known(visit: Visit) -> bool:
    """Both temperatures and the time since the stop are known; else a deviation is only worth a second look."""
    return len(_places(visit)) == 2 and visit.standing.minutes_off is not None


def _places(visit: Visit) -> tuple[Uncertain, ...]:
    """Where liquid may lie: outdoors, and at the indoor coil, which the return air tells where it was not read."""
    indoor = measured(visit, "/standing/indoor_temperature") or measured(visit, "/air/return_dry_bulb")
    read = (measured(visit, "/standing/ambient_temperature"), indoor)
    return tuple(value for value in read if value is not None)


def _saturation(line: Callable[[float], float], temperature: Uncertain) -> Uncertain | None:
    """Saturation pressure [Pa] at a temperature; None beyond the refrigerant's range."""
    try:
        return propagate(line, temperature)
    except OutOfRange:
        return None


def _computed(visit: Visit, refrigerant: Refrigerant | None, pressure: Uncertain) -> StandingComputed:
    ambient = measured(visit, "/standing/ambient_temperature")
    if refrigerant is None or ambient is None:
        return StandingComputed()
    saturated = _saturation(refrigerant.saturation.bubble_pressure, ambient)
    if saturated is None:
        return StandingComputed()
    return StandingComputed(saturated.quantity("pressure"), (pressure - saturated).quantity("pressure_difference"))


def _missing(visit: Visit, refrigerant: Refrigerant | None) -> Iterator[Missing]:
    if refrigerant is None:
        yield Missing("/equipment/refrigerant", "standing.refrigerant")
    if visit.standing.ambient_temperature is None:
        yield Missing("/standing/ambient_temperature", "standing.ambient-temperature")
    if visit.standing.indoor_temperature is None and visit.air.return_dry_bulb is None:
        yield Missing("/standing/indoor_temperature", "standing.indoor-temperature")
    if visit.standing.minutes_off is None:
        yield Missing("/standing/minutes_off", "standing.minutes-off")
