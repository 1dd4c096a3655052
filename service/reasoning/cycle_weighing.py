"""What the cycle model makes of the running readings, in the terms of the whole posterior.

The model's own posterior ranks the causes it knows (a sound unit among them). A cause it does not know takes
the likelihood of the class it looks like on the gauges, with its prior beside a sound unit's.
"""

import math
from collections.abc import Mapping
from functools import cache, cached_property

from service.knowledge.catalogues import CauseRow
from service.reasoning.cycle import judge_cycle
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.prior import prior_by_class
from service.reasoning.cycle_pointers import weighed_pointers
from service.reasoning.cycle_question import cycle_inputs
from service.results.answer import Argument
from service.results.cycle import CycleEvidence, CycleInputs, CycleVerdict
from service.results.finding import Value
from service.results.quantity import Quantity
from service.results.record import Record, field
from service.results.visit import Visit

CYCLE_ARGUMENT = "argument.cycle"
SOUND = "none_found"
# Out of population: believed by as little as the readings are rare (see ``cycle.case``), not thrown away.
TRUSTED = ("steady", "slight", "out_of_population")
LEAST = 1e-12  # a probability below this is written as this, so that its logarithm exists
NOT_RUNNING = -8.0  # a cause that keeps the compressor from running cannot have made running readings
# What the model does not know and a unit that has run steadily rarely has: a stopped fan or blower goes beyond the
# range of a blocked coil or low airflow within minutes, failed contacts and shorted windings stop the compressor.
# Their shares are of calls, most of them to units that do not run. Natural-log likelihood ratio; project choice.
RUNS_STEADILY = -1.5
TELLING = 0.7  # natural-log weight from which a reading is named as an argument; project choice
AIRFLOW = "airflow_per_capacity"
ABSOLUTE = ("saturation_temperature", "line_temperature", "_bulb")


class CycleWeighing(Record, dict=True):
    """shares: the model's posterior by cause; relative: ln likelihood by class less ln evidence; sound_prior: of a
    sound unit; pointers: readings that are in it; arguments: what speaks for and against, by cause code.
    """

    shares: Mapping[str, float]
    relative: Mapping[str, float]
    sound_prior: float
    pointers: frozenset[str]
    arguments: Mapping[str, tuple[Argument, ...]] = field(default_factory=dict)

    @cached_property
    def log_sound_prior(self) -> float:
        """Natural logarithm of the prior of a sound unit."""
        return math.log(self.sound_prior)

    @cached_property
    def least(self) -> float:
        """The least of the relative likelihoods."""
        return min(self.relative.values())

    def log_posterior(self, row: CauseRow, beside_sound: float) -> float:
        """Score of a cause; beside_sound: ln of its prior over a sound unit's."""
        own = class_of(row.code)
        if own in self.shares:
            return math.log(max(self.shares[own], LEAST))
        looks_like = class_of(row.cycle_class)
        if looks_like not in self.relative:
            return self.log_sound_prior + beside_sound + NOT_RUNNING + self.least
        return self.log_sound_prior + beside_sound + self.relative[looks_like] + RUNS_STEADILY


def cause_of(name: str) -> str:
    """Code of the cause that a class of the cycle model stands for."""
    return f"cause.{name.replace('_', '-')}"


@cache
def class_of(name: str) -> str:
    """The model's name of a cause code or cycle class."""
    bare = name.removeprefix("cause.").replace("-", "_")
    return SOUND if bare == "healthy" else bare


def ask_cycle(visit: Visit) -> tuple[CycleInputs | None, CycleVerdict | None]:
    """The question the visit can put to the model, and its verdict."""
    inputs = cycle_inputs(visit)
    return inputs, (judge_cycle(inputs) if inputs is not None else None)


def weigh(inputs: CycleInputs | None, verdict: CycleVerdict | None) -> CycleWeighing | None:
    """The weighing of a verdict that may be relied on, else None."""
    if inputs is None or verdict is None or verdict.state not in TRUSTED:
        return None
    priors = prior_by_class(inputs.history)
    logs = verdict.log_likelihoods
    evidence = _log_sum([math.log(priors[name]) + logs[name] for name in logs])
    return CycleWeighing(
        shares=dict(verdict.probabilities),
        relative={name: logs[name] - evidence for name in logs},
        sound_prior=priors[SOUND],
        pointers=weighed_pointers(inputs),
        arguments=_arguments(verdict),
    )


def _log_sum(values: list[float]) -> float:
    top = max(values)
    return top + math.log(sum(math.exp(value - top) for value in values))


def _arguments(verdict: CycleVerdict) -> dict[str, tuple[Argument, ...]]:
    """Arguments of the leading cause: against a sound unit, or for a sound unit against the runner-up."""
    leading = verdict.probabilities[0][0]
    sign = -1.0 if leading == SOUND else 1.0
    said = [
        _argument(item, sign * item.weight_against_sound)
        for item in verdict.evidence
        if abs(item.weight_against_sound) >= TELLING
    ]
    return {cause_of(leading): tuple(said)}


def _argument(item: CycleEvidence, weight: float) -> Argument:
    kind = "temperature" if item.reading.endswith(ABSOLUTE) else _difference_kind(item.reading)
    width = "temperature_difference" if kind == "temperature" else kind
    # Airflow is said as a share of the nominal one.
    unit = AIRFLOW_PER_CAPACITY if item.reading == AIRFLOW else 1.0
    values: dict[str, Value] = {
        "reading": item.reading,
        "measured": Quantity(item.measured / unit, kind),
        "expected": Quantity(item.expected.likely / unit, kind),
        "difference": Quantity(item.difference / unit, width),
        "weight": round(weight, 1),
    }
    return Argument(CYCLE_ARGUMENT, weight, values)


def _difference_kind(reading: str) -> str:
    return "ratio" if reading == AIRFLOW or reading.endswith("ratio") else "temperature_difference"
