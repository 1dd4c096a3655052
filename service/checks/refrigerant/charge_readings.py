"""Superheat and subcooling against their targets."""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import FIXED, VALVES, RunningState
from service.knowledge.limits import limit
from service.knowledge.target_tables import target_table
from service.physics.uncertainty import Uncertain
from service.results.finding import Bounds, Finding, State, Value
from service.results.visit import Visit
from service.verdicts.bounded import fixed_bounds, judged

DIFFERENCE = "temperature_difference"
TARGET_SUPERHEAT = "/equipment/target_superheat"
TARGET_SUBCOOLING = "/equipment/target_subcooling"


def judge_superheat(visit: Visit, state: RunningState, *, decided: bool) -> Iterator[Finding]:
    """Superheat: of a fixed orifice against its target, of a valve against the range in which a valve works."""
    device = visit.equipment.metering_device
    if device in FIXED and state.superheat is not None and state.target_superheat is not None:
        yield from _fixed_superheat(visit, state.superheat, state.target_superheat, decided)
    valve = valve_superheat(state)
    if device in VALVES and valve is not None:
        bounds, also = _valve_range(visit)
        yield from _both_sides("charge.valve-superheat", valve, bounds, decided, also)


def valve_superheat(state: RunningState) -> Uncertain | None:
    """What the valve controls: the superheat at the evaporator outlet, else at the service valve.

    Returns
    -------
    [K]; None where neither is known

    References
    ----------
    Common practice, no source.
    """
    return state.evaporator_superheat or state.superheat


def judge_subcooling(visit: Visit, state: RunningState, *, decided: bool) -> Iterator[Finding]:
    """Subcooling against the nameplate target; without one against what is usual, for review only."""
    if state.subcooling is None:
        return
    target = visit.equipment.target_subcooling
    if target is None:
        low, high = limit("charge.subcooling-low"), limit("charge.subcooling-high")
        bounds = low.bounds(low=low.value, high=high.value)
        yield from _both_sides("charge.subcooling", state.subcooling, bounds, decided, (), worst=State.REVIEW)
        return
    allowed = limit("charge.subcooling-tolerance")
    bounds = fixed_bounds(DIFFERENCE, low=target - allowed.value, high=target + allowed.value)
    also = (TARGET_SUBCOOLING,)
    yield from _both_sides("charge.subcooling", state.subcooling, bounds, decided, also, target=Uncertain(target))


def _fixed_superheat(visit: Visit, superheat: Uncertain, target: Uncertain, decided: bool) -> Iterator[Finding]:
    allowed = limit("charge.superheat-tolerance").value
    low, high = target.value - allowed, target.value + allowed
    given = visit.equipment.target_superheat is not None
    bounds = (
        fixed_bounds(DIFFERENCE, low=low, high=high)
        if given
        else target_table("target-superheat").bounds(low, high)
    )
    also = (TARGET_SUPERHEAT,) if given else ()
    yield from _both_sides("charge.superheat", superheat, bounds, decided, also, target=target)


def _valve_range(visit: Visit) -> tuple[Bounds, tuple[str, ...]]:
    target = visit.equipment.target_superheat
    if target is not None:
        allowed = limit("charge.superheat-tolerance").value
        low = max(target - allowed, 0.0)
        return fixed_bounds(DIFFERENCE, low=low, high=target + allowed), (TARGET_SUPERHEAT,)
    lowest, highest = limit("charge.valve-superheat-lowest"), limit("charge.valve-superheat-highest")
    return lowest.bounds(low=lowest.value, high=highest.value), ()


def _both_sides(
    area: str,
    value: Uncertain,
    bounds: Bounds,
    decided: bool,
    also: tuple[str, ...],
    *,
    target: Uncertain | None = None,
    worst: State = State.FAIL,
) -> Iterator[Finding]:
    """One finding for too high and one for too low, each against its own side of the bounds.

    target: what the bounds are laid round; the texts name it.
    """
    values: dict[str, Value] | None = None if target is None else {"target": target.quantity(bounds.kind)}
    for side in ("low", "high"):
        one = Bounds(bounds.kind, bounds.origin, bounds.source, **{side: getattr(bounds, side)})
        code = f"{area}-{side}"
        yield judged(code, value, one, target=target, worst=worst, decided=decided, also=also, values=values)
