"""What each reading says for the leading cause: expected, measured, difference, weight."""

from collections.abc import Mapping, Sequence

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.physics.arrays import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.case import Cases, picked
from service.reasoning.cycle.close import FAULT, OTHER, SOUND_UNIT, Close, Ranked
from service.reasoning.cycle.forecast import public_name
from service.reasoning.cycle.gaussian import alone_each, log_sum, squares, without_each
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.question import Question
from service.results.cycle import CycleEvidence, Range

Weights = Sequence[float]


def weights_of_readings(cases: Cases, close: Close, ranked: Sequence[Ranked]) -> list[tuple[Weights, Weights]]:
    """Natural-log weights of the readings taken, for each visit: leading cause against the next, and the likeliest
    fault against a sound unit."""
    if not cases.index.size:
        return [((), ())] * len(ranked)
    found: list[tuple[Weights, Weights]] = []
    for change, one in zip(_changes(cases, close).tolist(), ranked, strict=True):
        against_sound = _less(change[0], change[SOUND_UNIT - FAULT])
        if one[0][0] == SOUND:
            against_next = [-weight for weight in against_sound]
        elif one[1][0] == SOUND:
            against_next = against_sound
        else:
            against_next = _less(change[0], change[OTHER - FAULT])
        found.append((against_next, against_sound))
    return found


def _less(first: Weights, second: Weights) -> list[float]:
    return [one - other for one, other in zip(first, second, strict=True)]


def _changes(cases: Cases, close: Close) -> Array:
    """Log-likelihood (v, n, o) that each class owes to each reading.

    Half of what a reading says alone and half of what would be lost without it: readings that bear each other out
    would otherwise all look idle, and readings that are read together would be counted in full each.
    """
    classes = close.classes[:, FAULT:]
    visits, count = np.arange(len(classes)), classes.shape[1]
    none = picked(cases.frame.log_mass, 2, visits, classes)
    difference = close.difference[:, FAULT:]
    logs = np.empty((2, *difference.shape))
    after = picked(cases.log_evidence, 2, visits, classes)
    whole = log_sum(after.reshape(visits.size, count, -1), -1)
    whitening = close.whitening[:, FAULT:]
    pull = close.white[:, FAULT:] @ whitening.swapaxes(-1, -2)
    logs[0] = without_each(after, squares(whitening), pull)
    before = picked(cases.log_weight, 2, visits, classes)
    logs[1] = alone_each(before, close.total[:, FAULT:], difference)
    left, alone = log_sum(logs.reshape(2, visits.size, count, -1, logs.shape[-1]), -2)
    return np.asarray(0.5 * (alone - left + (whole - none)[..., None]))


def evidence(
    question: Question, weights: tuple[Weights, Weights], expected: Mapping[str, Range]
) -> tuple[CycleEvidence, ...]:
    """Evidence of every reading taken that a sound unit has an expectation for, the weightiest first."""
    found = [
        _one(name, question.read.values[name], expected[public_name(name)], *pair)
        for name, *pair in zip((READINGS[at] for at in question.read.index), *weights, strict=True)
        if public_name(name) in expected
    ]
    return tuple(sorted(found, key=lambda item: -abs(item.weight_against_next)))


def _one(name: str, measured: float, wanted: Range, against_next: float, against_sound: float) -> CycleEvidence:
    if name == "airflow_ratio":
        measured *= AIRFLOW_PER_CAPACITY
    return CycleEvidence(
        public_name(name), wanted, measured, measured - wanted.likely, against_next, against_sound
    )
