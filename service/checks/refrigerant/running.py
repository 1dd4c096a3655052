"""Running readings judged for themselves: pressure, heat rejection, frost, liquid at the compressor, the drier."""

from collections.abc import Iterator
from typing import Final

from service.checks.refrigerant.running_state import RunningState
from service.knowledge.cycle_kinds import cycle_kind
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit, limit_table
from service.physics.uncertainty import read
from service.results.finding import CONTRADICTED, Bounds, Confidence, Finding, State, Value
from service.results.out_of_range import OutOfRange
from service.results.visit import Visit
from service.verdicts.bounded import evidence, fixed_bounds, judged
from service.verdicts.judge import above, below
from service.verdicts.measured import measured
from service.verdicts.mode import asks_heating, judges_cooling, pressures_are_level
from service.verdicts.refrigerant_held import refrigerant_held
from service.verdicts.report import report
from service.verdicts.resting_fan import fan_rests, is_held_up

HIGH_SIDE = (
    "/running/discharge_pressure",
    "/running/liquid_pressure",
    "/standing/pressure",
    "/start_up/liquid_pressure_after",
)
CLASS_SPREAD = "spread of the efficiency class"
HOT_LIQUID = "hot-liquid"  # variant of high condensing that too much charge does not explain
# Each row holds from the seasonal efficiency (SEER) that is its key.
BY_SEER: Final = "running.condensing-over-outdoor-seer"
STANDARD, HIGH = "10", "16"  # rows of that table for a unit whose efficiency class alone is stated


def check_running(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Findings that need no target of the charge."""
    cooling = judges_cooling(visit)
    groups = (
        _high_side(visit, state),
        _vacuum(visit),
        _drier(state),
        () if asks_heating(visit) and pressures_are_level(visit) else _floodback(state),
        _outdoor_fan(visit),
        *((_freezing(state), _condensing(visit, state)) if cooling else ()),
    )
    return tuple(finding for group in groups for finding in group)


def _high_side(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """A high side at or above its cut-out or its design pressure can open a relief, a switch or a joint."""
    read = {pointer: measured(visit, pointer) for pointer in HIGH_SIDE}
    pressures = [value for value in read.values() if value is not None]
    if not pressures:
        return
    highest = max(pressures, key=lambda value: value.value)
    bounds, also = high_side_limit(visit, state)
    reached = not below(highest.value, bounds.high or 0.0)
    yield report(
        "pressure.high-side-unsafe",
        State.FAIL if reached else State.PASS,
        evidence(highest) + also,
        measured=highest.quantity("pressure"),
        limit=bounds,
    )


def high_side_limit(visit: Visit, state: RunningState) -> tuple[Bounds, tuple[str, ...]]:
    """The lower of the nameplate's high-side design pressure and the cut-out of the refrigerant's class [Pa]."""
    by_class = _cut_out(visit, state)
    design = visit.equipment.high_side_design_pressure
    if design is not None and design <= (by_class.high or 0.0):
        return fixed_bounds("pressure", high=design), ("/equipment/high_side_design_pressure",)
    return by_class, ()


def _cut_out(visit: Visit, state: RunningState) -> Bounds:
    """By refrigerant where its cut-out is known, else by the saturation temperature those cut-outs stand for.

    An unknown refrigerant gets the highest of them: above it, none of comfort cooling's is safe.
    """
    cut_outs = limit_table("pressure.cut-out")
    row = cut_outs.get(state.refrigerant.designation.lower()) if state.refrigerant is not None else None
    if row is None and state.refrigerant is not None:
        by_temperature = limit("pressure.cut-out-saturation")
        try:
            pressure = state.refrigerant.saturation.bubble_pressure(by_temperature.value)
            return by_temperature.bounds(high=pressure, kind="pressure")
        except OutOfRange:
            row = None  # too near its critical point: the highest class stands in
    row = row or max(cut_outs.values(), key=lambda each: each.value)
    return row.bounds(high=row.value + visit.site_pressure, kind="pressure")


def _vacuum(visit: Visit) -> Iterator[Finding]:
    """Suction in vacuum with liquid on the high side: a valve is shut or a line plugged; running on destroys
    it."""
    suction = measured(visit, "/running/suction_pressure")
    high = measured(visit, "/running/discharge_pressure") or measured(visit, "/running/liquid_pressure")
    if suction is None or high is None:
        return
    outside, least = visit.site_pressure, limit("running.vacuum-high-side").value
    if suction.value + suction.half_width < outside and high.value - outside >= least:
        yield report(
            "running.suction-in-vacuum",
            State.FAIL,
            evidence(suction, high),
            measured=suction.quantity("pressure"),
        )


def _drier(state: RunningState) -> Iterator[Finding]:
    """Liquid must not cool on its way through the filter-drier: a drop is a pressure drop with flashing."""
    if state.drier_temperature_drop is not None and state.drier_temperature_drop.value >= 0.0:
        yield judged(
            "restriction.drier-drop", state.drier_temperature_drop, limit("restriction.drier-drop").as_high()
        )


def _floodback(state: RunningState) -> Iterator[Finding]:
    """Hardly any superheat at the compressor: liquid comes back, washes out the oil and can break valves.

    Far below nothing is no liquid but a wrong hose, clamp or refrigerant, which other findings name.
    """
    if state.total_superheat is not None:
        least = limit("running.floodback-superheat")
        superheat = state.total_superheat.value
        pressed = not above(superheat, least.value)
        near = abs(superheat - least.value) <= state.total_superheat.half_width
        absurd = below(superheat, -limit("running.floodback-beyond-belief").value)
        yield report(
            "running.floodback",
            State.UNDECIDED if absurd else State.FAIL if pressed else State.PASS,
            evidence(state.total_superheat),
            measured=state.total_superheat.quantity("temperature_difference"),
            limit=least.as_low(),
            confidence=Confidence.BORDERLINE if near else Confidence.FIRM,
            variant=CONTRADICTED if absurd else "",
        )


def _freezing(state: RunningState) -> Iterator[Finding]:
    if state.suction_saturation_temperature is not None:
        yield judged(
            "running.coil-freezing",
            state.suction_saturation_temperature,
            limit("running.freezing").as_low(),
            worst=State.REVIEW,
        )


def _outdoor_fan(visit: Visit) -> Iterator[Finding]:
    """A fan that stands still has failed, unless a defrost or the head pressure control may have stopped it."""
    if visit.running.outdoor_fan_on is None:
        return
    pointer = "/running/outdoor_fan_on"
    stopped_by, said_by = fan_rests(visit)
    if visit.running.outdoor_fan_on:
        yield report("running.outdoor-fan-off", State.PASS, (pointer,))
    elif stopped_by:
        yield report("running.outdoor-fan-off", State.UNDECIDED, (pointer, *said_by), variant=stopped_by)
    else:
        yield report("running.outdoor-fan-off", State.FAIL, (pointer,))


def _condensing(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Condensing over outdoor air against the efficiency class (common practice).

    Sound units of one class differ by more than the margin: above it is borderline up to the limit of any class.
    """
    approach = state.condensing_over_outdoor
    if approach is None:
        return
    bounds, also = condensing_limit(visit)
    if is_held_up(visit):
        pointers = (*evidence(approach), "/equipment/head_pressure_control")
        yield report("running.condensing-high", State.NOT_APPLICABLE, pointers)
        return
    decided = visit.running.outdoor_fan_on is not False
    over = above(approach.value, bounds.high or 0.0)
    variant, liquid = _liquid_leaves(visit) if over and decided else ("", {})
    yield judged(
        "running.condensing-high",
        approach,
        bounds,
        target=read(CLASS_SPREAD, 0.0, _class_spread(visit)) if over else None,
        worst=State.FAIL,
        decided=decided,
        also=(*also, *(("/running/liquid_line_temperature",) if variant else ())),
        values=liquid,
        variant=variant,
    )


def _liquid_leaves(visit: Visit) -> tuple[str, dict[str, Value]]:
    """Liquid that too much charge backs up leaves near the outdoor air; hot liquid: the air takes no heat."""
    liquid = measured(visit, "/running/liquid_line_temperature")
    outdoor = measured(visit, "/air/outdoor_dry_bulb")
    if liquid is None or outdoor is None:
        return "", {}
    over = liquid - outdoor
    hot = above(over.value, limit("running.liquid-over-outdoor").value)
    return (HOT_LIQUID, {"liquid": over.quantity("temperature_difference")}) if hot else ("", {})


def condensing_limit(visit: Visit) -> tuple[Bounds, tuple[str, ...]]:
    """Highest usual condensing over outdoor [K] of the efficiency class, and the members that told the class."""
    row, also = _class(visit)
    value = limit_table(BY_SEER)[row]
    beside = _beside_its_class(visit)
    return value.bounds(high=value.value + limit("running.condensing-margin").value + beside), also


def _class_spread(visit: Visit) -> float:
    """Half-width [K] of the limit: as units of a class differ, or as far as one of standard efficiency condenses.

    A better class that is stated may raise a doubt; alone it condemns no unit that is in truth a standard one.
    """
    rows = limit_table(BY_SEER)
    older = rows[STANDARD].value - rows[_class(visit)[0]].value
    return max(limit("running.condensing-spread").value, older)


def _beside_its_class(visit: Visit) -> float:
    """How far a sound unit of this kind condenses over one of the same class that is split in two [K]."""
    held = refrigerant_held(visit)
    stands_as = kind_row(visit.equipment.kind).stands_as or None
    return cycle_kind(stands_as, held.designation if held is not None else "").condensing


def _class(visit: Visit) -> tuple[str, tuple[str, ...]]:
    """The row of the table for a unit: the highest SEER that it reaches, else the lowest."""
    seer, rows = visit.equipment.seer, sorted(limit_table(BY_SEER), key=float)
    if seer is not None:
        reached = [row for row in rows if seer >= float(row)]
        return (reached or rows)[-1 if reached else 0], ("/equipment/seer",)
    if visit.equipment.efficiency_class is not None:
        row = HIGH if visit.equipment.efficiency_class == "high" else STANDARD
        return row, ("/equipment/efficiency_class",)
    return rows[0], ()
