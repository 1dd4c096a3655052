"""Which way a heat pump moves heat: as it is asked to, or the other way round.

Source: a condenser gives heat to its air and an evaporator takes it (physics); which of them the indoor coil is
follows from the reversing valve. Which signs count, and how many: common practice, no source.
"""

from collections.abc import Iterator, Mapping

from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import State
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.measured import measured

SUCTION, LIQUID = "/running/suction_pressure", "/running/liquid_pressure"
SUCTION_LINE, LIQUID_LINE = "/running/suction_line_temperature", "/running/liquid_line_temperature"
VAPOR_LINE = "/running/vapor_line_temperature"
RETURN, SUPPLY = "/air/return_dry_bulb", "/air/supply_dry_bulb"
ENTERING, LEAVING = "/air/outdoor_dry_bulb", "/air/condenser_leaving_dry_bulb"
ICE, FAN_ON = "/inspection/outdoor_coil_ice", "/running/outdoor_fan_on"
FAN_TURNS = "/electrical/outdoor_fan/turns"
LINE, AIR, OUTDOORS, PRESSURE = "line", "air", "outdoors", "pressure"
ENOUGH = 2  # signs of different instruments
Signs = Mapping[str, tuple[str, ...]]


class Direction(Record):
    """Whether it runs the other way than asked.

    state: fail (signs agree), review (fewer), undecided (one sign, or a defrost may explain it), pass (a sign of
    the mode that is asked for) or None. variant: the mode that it runs in, or defrost. evidence: the readings.
    """

    state: State | None = None
    variant: str = ""
    evidence: tuple[str, ...] = ()

    @property
    def is_reversed(self) -> bool:
        """True where the readings show the other mode than the one that is asked for."""
        return self.state in (State.FAIL, State.REVIEW)


def asks_heating(visit: Visit) -> bool:
    """Whether the unit is asked to heat."""
    return visit.equipment.mode == "heating"


def judges_cooling(visit: Visit) -> bool:
    """Whether what holds of a unit in cooling may be judged: it is asked to cool and does not heat instead."""
    return not asks_heating(visit) and not direction(visit).is_reversed


def may_reverse(visit: Visit) -> bool:
    """False where the unit is known to have no reversing valve."""
    return not kind_row(visit.equipment.kind).cools_only


@kept
def direction(visit: Visit) -> Direction:
    """Which way the readings say that heat is moved, against what is asked."""
    if not may_reverse(visit):
        return Direction()
    return _asked_to_heat(visit) if asks_heating(visit) else _asked_to_cool(visit)


def _asked_to_cool(visit: Visit) -> Direction:
    """Without a sign that a compressor makes (a hot vapor line, cold air outdoors) heat strips and a standing
    compressor look the same."""
    signs = dict(_of_heating(visit))
    pointers = _pointers(signs)
    if len(signs) >= ENOUGH and LINE in signs:
        return Direction(State.FAIL, "in-heating", pointers)
    if len(signs) >= ENOUGH and OUTDOORS in signs:
        return Direction(State.REVIEW, "in-heating", pointers)
    if len(signs) >= ENOUGH or LINE in signs:
        return Direction(State.UNDECIDED, "in-heating", pointers)
    return Direction()


def _asked_to_heat(visit: Visit) -> Direction:
    """A defrost is cooling for some minutes, with the outdoor fan standing."""
    signs = dict(_of_cooling(visit))
    pointers, fan = _pointers(signs), outdoor_fan_seen_running(visit)
    if not signs:
        return _as_asked(visit)
    if len(signs) >= ENOUGH and fan:
        sure = LINE in signs or AIR in signs
        return Direction(State.FAIL if sure else State.REVIEW, "in-cooling", (*pointers, *fan))
    if fan:
        return Direction(State.UNDECIDED, "in-cooling", pointers)
    return Direction(State.UNDECIDED, "defrost", pointers)


def _as_asked(visit: Visit) -> Direction:
    line = _hot_line(visit)
    return Direction(State.PASS, "", line) if line else Direction()


def _of_heating(visit: Visit) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Signs that heat goes indoors, each of other readings."""
    if line := _hot_line(visit):
        yield LINE, line
    if _exceeds(visit, SUPPLY, RETURN, limit("mode.air").value):
        yield AIR, (SUPPLY, RETURN)
    if _exceeds(visit, ENTERING, LEAVING, limit("mode.outdoor-air").value):
        yield OUTDOORS, (LEAVING, ENTERING)
    elif visit.inspection.outdoor_coil_ice in ("frost", "iced"):
        yield OUTDOORS, (ICE,)
    if pressures_are_level(visit):
        yield PRESSURE, (SUCTION, LIQUID)


def _of_cooling(visit: Visit) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Signs that heat is taken from indoors, each of other readings."""
    if _exceeds(visit, RETURN, VAPOR_LINE, limit("mode.air").value):
        yield LINE, (VAPOR_LINE, RETURN)
    if _exceeds(visit, RETURN, SUPPLY, limit("mode.air").value):
        yield AIR, (SUPPLY, RETURN)
    if _exceeds(visit, LEAVING, ENTERING, limit("mode.outdoor-air").value):
        yield OUTDOORS, (LEAVING, ENTERING)
    if _exceeds(visit, RETURN, LIQUID_LINE, limit("mode.liquid-line").value):
        yield "liquid", (LIQUID_LINE, RETURN)


def _pointers(signs: Signs) -> tuple[str, ...]:
    return tuple(dict.fromkeys(pointer for pointers in signs.values() for pointer in pointers))


def _hot_line(visit: Visit) -> tuple[str, ...]:
    """The readings of a vapor line that is warmer than any air makes it; none where clamps may be swapped: a
    liquid line colder than the house is no liquid line of a unit that heats."""
    pointer = VAPOR_LINE if visit.running.vapor_line_temperature is not None else SUCTION_LINE
    line, liquid = measured(visit, pointer), measured(visit, LIQUID_LINE)
    airs = {air: read for air in (RETURN, ENTERING) if (read := measured(visit, air)) is not None}
    if line is None or not airs:
        return ()
    warmest = max(airs, key=lambda air: airs[air].value)
    swapped = liquid is not None and _is_over(min(airs.values(), key=lambda read: read.value), liquid, 0.0)
    hot = _is_over(line, airs[warmest], limit("mode.hot-line").value)
    return (pointer, warmest) if hot and not swapped else ()


def has_hot_line(visit: Visit) -> bool:
    """Whether the large line carries gas that is hotter than any air makes it."""
    return bool(_hot_line(visit))


def may_defrost(visit: Visit) -> bool:
    """Whether a defrost may run: asked to heat, no hot large line, and the outdoor fan not seen running."""
    return asks_heating(visit) and not has_hot_line(visit) and not outdoor_fan_seen_running(visit)


def outdoor_fan_seen_running(visit: Visit) -> tuple[str, ...]:
    """The readings that say that the outdoor fan runs, as JSON Pointers; none where one says that it stands."""
    seen = {FAN_ON: visit.running.outdoor_fan_on, FAN_TURNS: visit.electrical.outdoor_fan.turns}
    return () if False in seen.values() else tuple(pointer for pointer, runs in seen.items() if runs)


def pressures_are_level(visit: Visit) -> bool:
    """Whether the gauge on the large line reads about what the one on the liquid line does."""
    suction, liquid = measured(visit, SUCTION), measured(visit, LIQUID)
    if suction is None or liquid is None:
        return False
    near = limit("mode.level-pressures").value
    return near <= suction.value / liquid.value <= 1.0 / near


def _exceeds(visit: Visit, high: str, low: str, margin: float) -> bool:
    above, below = measured(visit, high), measured(visit, low)
    return above is not None and below is not None and _is_over(above, below, margin)


def _is_over(high: Uncertain, low: Uncertain, margin: float) -> bool:
    gap = high - low
    return gap.value > gap.half_width + margin
