"""What a sound unit would read a little below the weather that was simulated, by the model's own slope."""

from service.knowledge.limits import limit
from service.reasoning.cycle import judge_cycle
from service.reasoning.cycle.gate import OUTDOOR
from service.results.cycle import CycleInputs, CycleReadings, Range
from service.results.record import replace

SLOPE_OVER = 5.0  # K, far enough for a slope and near enough for the same valve; project choice
WIDENED_BY = 0.5  # of what was extrapolated; project choice


def is_cool(inputs: CycleInputs) -> bool:
    """Whether it is only the outdoor air that is cooler than simulated, and not by much."""
    lowest = limit("expected.coolest-outdoor").value
    return lowest <= inputs.conditions.outdoor_dry_bulb < OUTDOOR[0] and bool(_expected_at(inputs, OUTDOOR[0]))


def cool_weather_ranges(inputs: CycleInputs) -> dict[str, Range]:
    """Expected readings extrapolated from the edge of the simulated weather, wider by half of the way."""
    edge, warmer = _expected_at(inputs, OUTDOOR[0]), _expected_at(inputs, OUTDOOR[0] + SLOPE_OVER)
    share = (OUTDOOR[0] - inputs.conditions.outdoor_dry_bulb) / SLOPE_OVER
    found = {}
    for name in edge.keys() & warmer.keys():
        shift = (edge[name].likely - warmer[name].likely) * share
        width = WIDENED_BY * abs(shift)
        found[name] = Range(
            edge[name].low + shift - width, edge[name].likely + shift, edge[name].high + shift + width
        )
    return found


def _expected_at(inputs: CycleInputs, outdoor: float) -> dict[str, Range]:
    """What is expected in another weather; readings taken in this one say nothing there."""
    conditions = replace(inputs.conditions, outdoor_dry_bulb=outdoor)
    asked = replace(inputs, conditions=conditions, readings=CycleReadings(), baseline=None, minutes_running=None)
    return dict(judge_cycle(asked).expected)
