"""How soon the truth is named: a sensible fixed order of readings against the order of expected information."""

from collections.abc import Callable

import numpy as np

from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.case import Cases, prepare
from service.reasoning.cycle.gain import gains, offer
from service.reasoning.cycle.next_readings import alike, predict
from service.reasoning.cycle.posterior import CAUSES, cause_probabilities
from service.reasoning.cycle.question import question_of
from service.results.record import Record, replace
from tests.simulated.populations import HeldOut, inputs
from tests.simulated.scoring import FIELD

# Common practice, no source: gauges, clamps, supply air, then whatever else hangs in the van.
FIXED_ORDER = (
    "suction_saturation_temperature",
    "liquid_saturation_temperature",
    "suction_line_temperature",
    "liquid_line_temperature",
    "supply_dry_bulb",
    "discharge_line_temperature",
    "compressor_amps_ratio",
    "supply_wet_bulb",
    "airflow_ratio",
    "condenser_leaving_dry_bulb",
    "target_subcooling",
    "drier_temperature_drop",
    "standing_saturation_excess",
)
SURE = (0.7, 0.8, 0.9)
Order = Callable[[Cases, tuple[str, ...]], tuple[str, ...]]


class Course(Record):
    """Accuracy (simulated) after each number of readings; mean readings and accuracy when sure enough."""

    accuracy: np.ndarray
    readings_at: dict[float, tuple[float, float]]


def in_fixed_order(_: Cases, taken: tuple[str, ...]) -> tuple[str, ...]:
    """The next reading of the fixed order."""
    return next((name,) for name in FIXED_ORDER if name not in taken)


def by_information(case: Cases, taken: tuple[str, ...]) -> tuple[str, ...]:
    """The reading (or those that come together) with most expected information for each reading taken."""
    missing = tuple(name for name in READINGS if name in FIXED_ORDER and name not in taken)
    offered = offer(missing)
    bits = gains(predict(case, offered, alike(case)[0]), offered).bits[0]
    found = zip(bits, (candidate.names for candidate in offered.candidates), strict=True)
    return max(found, key=lambda pair: pair[0] / len(pair[1]))[1]


def drawn_rows(visits: HeldOut, count: int, rng: np.random.Generator) -> np.ndarray:
    """Visits drawn as the field prior has them."""
    counts = np.bincount(visits.label, minlength=len(CAUSES))
    chance = np.array([FIELD[CAUSES[at]] / counts[at] for at in visits.label])
    return rng.choice(visits.label.size, count, p=chance / chance.sum())


def course(
    visits: list[HeldOut], rows: list[np.ndarray], order: Order, sure: tuple[float, ...] = (0.7, 0.8, 0.9)
) -> Course:
    """Follow visits reading by reading."""
    right, top = [], []
    for group, chosen in zip(visits, rows, strict=True):
        for row in chosen:
            one_right, one_top = _follow(group, int(row), order)
            right.append(one_right)
            top.append(one_top)
    hit, leading = np.array(right), np.array(top)
    return Course(hit.mean(axis=0), {level: _stopped(hit, leading, level) for level in SURE})


def _stopped(hit: np.ndarray, leading: np.ndarray, level: float) -> tuple[float, float]:
    enough = leading >= level
    enough[:, -1] = True
    at = enough.argmax(axis=1)
    return float(at.mean()), float(hit[np.arange(at.size), at].mean())


def _follow(group: HeldOut, row: int, order: Order) -> tuple[list[bool], list[float]]:
    taken: tuple[str, ...] = ()
    right, top = [], []
    while True:
        question = replace(inputs(group, row, taken), accuracies=inputs(group, row, FIXED_ORDER).accuracies)
        case = prepare([question_of(question)])
        name, probability = cause_probabilities(case.posterior.classes[0])[0]
        while len(right) <= len(taken):
            right.append(CAUSES.index(name) == group.label[row])
            top.append(probability)
        if len(taken) == len(FIXED_ORDER):
            return right, top
        taken = (*taken, *order(case, taken))


def readings_saved(fixed: np.ndarray, informed: np.ndarray) -> float:
    """Readings that the informed order saves for the accuracy the fixed order has after six to eleven (mean).

    One visit in a hundred more or less is no difference in a sample of this size.
    """
    return float(np.mean([at - readings_for(informed, fixed[at] - 0.01) for at in range(6, 12)]))


def readings_for(accuracy: np.ndarray, wanted: float) -> float:
    """Number of readings, interpolated, at which a course first reaches an accuracy."""
    at = int(np.argmax(accuracy >= wanted))
    if at == 0:
        return 0.0 if accuracy[0] >= wanted else float("inf")
    return at - 1 + (wanted - accuracy[at - 1]) / (accuracy[at] - accuracy[at - 1])
