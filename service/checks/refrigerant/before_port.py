"""A restriction between the compressor and the liquid gauge port: the one that looks like a shortage of charge.

Behind it the liquid flashes, so subcooling at the port is gone and the coil starves, as with too little charge.
"""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import RunningState, running_state, saturation_at
from service.knowledge.limits import limit
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.bounded import evidence, judged
from service.verdicts.measured import measured
from service.verdicts.report import report

CODE = "restriction.before-port"


@kept
def check_before_port(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Findings of the way from the compressor to the liquid gauge port, in cooling."""
    if visit.equipment.mode == "heating" or visit.running.outdoor_fan_on is False:
        return ()
    drop = tuple(_drop(visit, state))
    return drop or tuple(_flashing(visit, state))


def is_throttled(visit: Visit) -> bool:
    """Whether a restriction ahead of the liquid port was read or suspected: its gauge then tells no condenser."""
    found = check_before_port(visit, running_state(visit))
    return any(item.state in (State.FAIL, State.REVIEW) for item in found)


def flashes_below_outdoor(visit: Visit, state: RunningState) -> bool:
    """Whether the liquid line is colder than the outdoor air and as good as boiling at the pressure of its gauge.

    No condenser cools so far, but liquid that flashes behind a restriction does.
    """
    outdoor = measured(visit, "/air/outdoor_dry_bulb")
    line = measured(visit, "/running/liquid_line_temperature")
    if outdoor is None or line is None or state.subcooling is None:
        return False
    below = outdoor - line
    return below.value > below.half_width and abs(state.subcooling.value) <= state.subcooling.half_width


def _drop(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Discharge gauge over liquid gauge, as saturation temperatures: a condenser loses a few degrees."""
    _, bubble = saturation_at(state.refrigerant, measured(visit, "/running/discharge_pressure"))
    liquid = state.liquid_saturation_temperature
    if bubble is not None and liquid is not None and visit.equipment.metering_location != "outdoor":
        drop = bubble - liquid
        if drop.value >= 0.0:
            yield judged(CODE, drop, limit("restriction.before-port").as_high())


def _flashing(visit: Visit, state: RunningState) -> Iterator[Finding]:
    outdoor = measured(visit, "/air/outdoor_dry_bulb")
    line = measured(visit, "/running/liquid_line_temperature")
    if outdoor is None or line is None or state.subcooling is None or not flashes_below_outdoor(visit, state):
        return
    below = outdoor - line
    pointers = evidence(below, state.subcooling)
    yield report(CODE, State.REVIEW, pointers, measured=below.quantity("temperature_difference"))
