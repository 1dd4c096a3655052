"""What superheat and subcooling say together: the charge is not the only thing that moves them."""

from collections.abc import Iterator

from service.checks.refrigerant.charge_conditions import part_load
from service.checks.refrigerant.charge_readings import valve_superheat
from service.checks.refrigerant.running_state import FIXED, VALVES, RunningState
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.verdicts.bounded import evidence
from service.verdicts.judge import above, below
from service.verdicts.mode import judges_cooling
from service.verdicts.report import report


def check_patterns(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Starved with liquid backed up, or flooded without liquid in store: for review, never a verdict."""
    return tuple(_feeding(visit, state))


def check_pumping(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Hardly any pressure difference, or high suction with a small ratio: for review, never a verdict."""
    return (*_weak(visit, state), *_equalised(visit, state))


def _feeding(visit: Visit, state: RunningState) -> Iterator[Finding]:
    feed, subcooling = _superheat_side(visit, state), state.subcooling
    if feed is None or subcooling is None:
        return
    side, superheat = feed
    values = {
        "superheat": superheat.quantity("temperature_difference"),
        "subcooling": subcooling.quantity("temperature_difference"),
    }
    pointers = evidence(superheat, subcooling)
    if side == "high" and not _short_of_liquid(visit, subcooling.value):
        yield report("restriction.starved", State.REVIEW, pointers, values=values)
    if side == "low" and _no_store_of_liquid(visit, subcooling.value):
        yield report("metering.overfed", State.REVIEW, pointers, values=values)


def _superheat_side(visit: Visit, state: RunningState) -> tuple[str, Uncertain] | None:
    device = visit.equipment.metering_device
    if device in FIXED and state.superheat is not None and state.target_superheat is not None:
        allowed = limit("charge.superheat-tolerance").value
        low, high = state.target_superheat.value - allowed, state.target_superheat.value + allowed
        superheat: Uncertain | None = state.superheat
    elif device in VALVES:
        low = limit("charge.valve-superheat-lowest").value
        high = limit("charge.valve-superheat-highest").value
        superheat = valve_superheat(state)
    else:
        return None
    if superheat is None:
        return None
    side = "high" if above(superheat.value, high) else "low" if below(superheat.value, low) else ""
    return side, superheat


def _short_of_liquid(visit: Visit, subcooling: float) -> bool:
    """False only where the subcooling clearly shows liquid backed up (or, at a valve, no lack of it)."""
    target, allowed = visit.equipment.target_subcooling, limit("charge.subcooling-tolerance").value
    fixed = visit.equipment.metering_device in FIXED
    if target is None:
        return not above(subcooling, limit("charge.subcooling-usual-highest").value)
    return not above(subcooling, target + allowed) if fixed else below(subcooling, target - allowed)


def _no_store_of_liquid(visit: Visit, subcooling: float) -> bool:
    target, allowed = visit.equipment.target_subcooling, limit("charge.subcooling-tolerance").value
    if target is None:
        return below(subcooling, limit("charge.subcooling-usual-lowest").value)
    return below(subcooling, target - allowed)


def _weak(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """A ratio of some size passes: gas is moved. A small one with a high suction is a pump that lets gas back."""
    suction, ratio = state.suction_saturation_temperature, state.compression_ratio
    if not judges_cooling(visit) or suction is None or ratio is None or part_load(visit):
        return
    high_suction = above(suction.value, limit("running.weak-suction-saturation").value)
    doubt = State.REVIEW if high_suction else State.UNDECIDED
    yield report(
        "compressor.weak-pumping",
        doubt if below(ratio.value, limit("running.weak-ratio").value) else State.PASS,
        evidence(ratio),
        measured=ratio.quantity("ratio"),
        limit=limit("running.weak-ratio").as_low(),
        values={"suction": suction.quantity("temperature")},
    )


def _equalised(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Both gauges alike while the unit is said to run: nothing is being moved, or the large line is on the high
    side, as in heating."""
    ratio = state.compression_ratio
    if ratio is not None and judges_cooling(visit) and is_equalised(state):
        yield report(
            "compressor.no-pressure-difference",
            State.REVIEW,
            evidence(ratio),
            measured=ratio.quantity("ratio"),
            limit=limit("running.no-ratio").as_low(),
        )


def is_equalised(state: RunningState) -> bool:
    """Whether suction and head pressure are as good as one."""
    ratio = state.compression_ratio
    return ratio is not None and below(ratio.value, limit("running.no-ratio").value)
