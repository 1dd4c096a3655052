"""Scores of the shipped judgement on simulated visits: top-1, false alarms, misses, calibration."""

from collections.abc import Callable

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.case import prepare
from service.reasoning.cycle.posterior import CAUSES, cause_probabilities
from service.reasoning.cycle.question import question_of
from service.reasoning.cycle.rare import rare_distance
from service.results.cycle import CycleBaseline
from service.results.record import Record, replace
from tests.simulated.populations import HeldOut, inputs

# The design study's field prior: simulated visits are weighed by it.
FIELD = {
    "none_found": 0.35,
    "undercharge": 0.18,
    "overcharge": 0.09,
    "low_indoor_airflow": 0.12,
    "outdoor_coil_blocked": 0.08,
    "liquid_line_restriction": 0.04,
    "non_condensables": 0.04,
    "compressor_not_pumping": 0.04,
    "metering_overfeeding": 0.03,
    "metering_underfeeding": 0.03,
}
BINS = 10
Known = Callable[[HeldOut, int, tuple[str, ...]], CycleBaseline]


class Judged(Record):
    """Judged visits: probabilities (n, causes), truth (n), share of the range of fault size, weight,
    and whether called out of the population (n)."""

    probabilities: np.ndarray
    label: np.ndarray
    share: np.ndarray
    weight: np.ndarray
    strange: np.ndarray


class Score(Record):
    """Simulated marks: all shares of 1."""

    top: float
    false_alarm: float
    middle_miss: float
    calibration_error: float
    strange: float

    def __str__(self) -> str:
        return (
            f"top-1 {self.top:.3f}  false alarm {self.false_alarm:.3f}  middle miss {self.middle_miss:.3f}  "
            f"calibration error {self.calibration_error:.3f}  called strange {self.strange:.3f}  (simulated)"
        )


def judge(
    visits: list[HeldOut],
    names: tuple[str, ...],
    efficiency: bool = True,
    stated: bool = True,
    known: Known | None = None,
) -> Judged:
    """Judge every visit with the shipped tables; known: what is known of each unit when it is sound."""
    rows, strange = [], []
    for group in visits:
        for row in range(group.label.size):
            question = inputs(group, row, names, efficiency, stated)
            if known is not None:
                question = replace(question, baseline=known(group, row, names))
            case = prepare([question_of(question)])
            strange.append(float(case.distance[0]) > rare_distance(len(names)))
            found = dict(cause_probabilities(case.posterior.classes[0]))
            rows.append([found[name] for name in CAUSES])
    label = np.concatenate([group.label for group in visits])
    share = np.concatenate([group.share for group in visits])
    counts = np.bincount(label, minlength=len(CAUSES))
    weight = np.array([FIELD[CAUSES[at]] / counts[at] for at in label])
    return Judged(np.array(rows), label, share, weight, np.array(strange))


def score(judged: Judged) -> Score:
    """Marks of judged visits."""
    guess = judged.probabilities.argmax(axis=1)
    sound = CAUSES.index(SOUND)
    right = guess == judged.label
    healthy = judged.label == sound
    middle = ~healthy & (judged.share > 1 / 3) & (judged.share <= 2 / 3)
    return Score(
        _mean(right, judged.weight),
        _mean(guess[healthy] != sound, judged.weight[healthy]),
        _mean(guess[middle] == sound, judged.weight[middle]),
        calibration_error(judged.probabilities.max(axis=1), right, judged.weight),
        _mean(judged.strange, judged.weight),
    )


def calibration_error(top: np.ndarray, right: np.ndarray, weight: np.ndarray) -> float:
    """Expected calibration error of the leading probability in ten equal bins."""
    place = np.minimum((top * BINS).astype(int), BINS - 1)
    error = 0.0
    for at in range(BINS):
        chosen = place == at
        if chosen.any():
            share = weight[chosen].sum() / weight.sum()
            error += share * abs(_mean(top[chosen], weight[chosen]) - _mean(right[chosen], weight[chosen]))
    return float(error)


def recall(judged: Judged) -> dict[str, float]:
    """Share of each cause's visits that are named rightly."""
    guess = judged.probabilities.argmax(axis=1)
    return {name: float((guess[judged.label == at] == at).mean()) for at, name in enumerate(CAUSES)}


def _mean(values: np.ndarray, weight: np.ndarray) -> float:
    return float(np.average(values.astype(float), weights=weight))
