"""A restriction between the compressor and the liquid gauge port: the one that looks like a shortage of charge.

Behind it the liquid flashes, so subcooling at the port is gone and the coil starves, as with too little charge.
"""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import RunningState, running_state, saturation_at
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.bounded import evidence, judged
from service.verdicts.measured import at_clamp, measured
from service.verdicts.mode import judges_cooling
from service.verdicts.report import report

CODE = "restriction.before-port"
OUTDOOR, LIQUID_LINE = "/air/outdoor_dry_bulb", "/running/liquid_line_temperature"


@kept
def check_before_port(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Findings of the way from the compressor to the liquid gauge port, in cooling."""
    if not judges_cooling(visit) or visit.running.outdoor_fan_on is False:
        return ()
    drop = tuple(_drop(visit, state))
    return drop or tuple(_flashing(visit, state))


def is_throttled(visit: Visit) -> bool:
    """Whether a restriction ahead of the liquid port was read or suspected: its gauge then tells no condenser."""
    found = check_before_port(visit, running_state(visit))
    return any(item.state in (State.FAIL, State.REVIEW) for item in found)


def below_outdoor(visit: Visit) -> Uncertain | None:
    """How far the liquid line lies below the outdoor air: two sensors, each as wide as a pipe clamp.

    Returns
    -------
    [K], negative where the line is the warmer one; None where either was not read

    References
    ----------
    The instruments as the visit states them, else `instruments.clamp`.
    """
    outdoor, line = at_clamp(visit, OUTDOOR), at_clamp(visit, LIQUID_LINE)
    return outdoor - line if outdoor is not None and line is not None else None


def is_below_outdoor(below: Uncertain) -> bool:
    """Whether that is beyond both instruments, rain on the coil and an ill-placed thermometer."""
    return below.value > below.half_width + limit("readings.liquid-below-outdoor").value


def flashes_below_outdoor(visit: Visit, state: RunningState) -> bool:
    """Whether the liquid line is colder than the outdoor air and as good as boiling at the pressure of its gauge.

    No condenser cools so far, but liquid that flashes behind a restriction does.
    """
    below = below_outdoor(visit)
    if below is None or state.subcooling is None:
        return False
    return is_below_outdoor(below) and abs(state.subcooling.value) <= state.subcooling.half_width


def _drop(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Discharge gauge over liquid gauge, as saturation temperatures: a condenser loses a few degrees."""
    _, bubble = saturation_at(state.refrigerant, measured(visit, "/running/discharge_pressure"))
    liquid = state.liquid_saturation_temperature
    if bubble is not None and liquid is not None and visit.equipment.metering_location != "outdoor":
        drop = bubble - liquid
        if drop.value >= 0.0:
            yield judged(CODE, drop, limit("restriction.before-port").as_high())


def _flashing(visit: Visit, state: RunningState) -> Iterator[Finding]:
    below = below_outdoor(visit)
    if below is None or state.subcooling is None or not flashes_below_outdoor(visit, state):
        return
    pointers = evidence(below, state.subcooling)
    yield report(CODE, State.REVIEW, pointers, measured=below.quantity("temperature_difference"))
