"""The leading fault: its size, what it costs, and what the unit would read once it is repaired."""

from collections.abc import Mapping, Sequence
from math import exp, inf, log
from sys import float_info

from service.knowledge.cycle_model import FAULT_LEVELS, LEVEL_MEASURES, SOUND
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle.close import Ranked, likeliest_fault
from service.reasoning.cycle.forecast import ranges, span
from service.reasoning.cycle.joint import HIDDEN
from service.reasoning.cycle.question import Question
from service.results.cycle import CycleLoss, CycleSeverity, Range
from service.results.record import Record, field

SLIGHT, MODERATE = 1.0 / 3.0, 2.0 / 3.0
LARGEST = log(float_info.max)


class LeadFault(Record):
    """The likeliest fault, even where a sound unit is likelier still."""

    name: str
    severity: CycleSeverity | None = None
    loss: CycleLoss | None = None
    repaired: Mapping[str, Range] = field(default_factory=dict)


def lead_fault(question: Question, ranked: Ranked, centre: Sequence[float], spread: Sequence[float]) -> LeadFault:
    """Describe the likeliest fault by mean and standard deviation of its other coordinates (14, see ``joint``)."""
    name = likeliest_fault(ranked)
    if ranked[0][0] == SOUND or not question.read.index:
        return LeadFault(name)
    size, capacity, power, efficiency = map(span, centre[:HIDDEN], spread[:HIDDEN])
    return LeadFault(
        name,
        _severity(name, size),
        CycleLoss(_ratio(capacity), _ratio(power), _ratio(efficiency)),
        ranges(READINGS[:BASELINE_COUNT], centre[HIDDEN:], spread[HIDDEN:], question.read.instruments),
    )


def _ratio(logs: Range) -> Range:
    return Range(_exp(logs.low), _exp(logs.likely), _exp(logs.high))


def _exp(value: float) -> float:
    # An absurd reading may ask for more than a float holds; its verdict is out of population, not an error.
    return exp(value) if value < LARGEST else inf


def _severity(name: str, share: Range) -> CycleSeverity:
    low, high = FAULT_LEVELS[name]
    places = (min(max(value, 0.0), 1.0) for value in (share.low, share.likely, share.high))
    level = Range(*(low + (high - low) * place for place in places))
    grade = "slight" if share.likely < SLIGHT else "moderate" if share.likely < MODERATE else "severe"
    return CycleSeverity(grade, level, LEVEL_MEASURES[name])
