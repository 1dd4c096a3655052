"""What each reading says for the leading cause: expected, measured, difference, weight."""

import numpy as np

from service.knowledge.cycle_model import CLASSES, SOUND
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.case import Case
from service.reasoning.cycle.gaussian import without_each
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.posterior import class_sums
from service.results.cycle import CycleEvidence, Range


def evidence(case: Case, causes: list[tuple[str, float]], expected: dict[str, Range]) -> tuple[CycleEvidence, ...]:
    """Evidence of every reading taken that a sound unit has an expectation for, the weightiest first."""
    ranked = [name for name, _ in causes]
    against_next = _weights(case, ranked[0], ranked[1])
    against_sound = _weights(case, next(name for name in ranked if name != SOUND), SOUND)
    found = [
        _one(READINGS[at], case, expected, float(against_next[place]), float(against_sound[place]))
        for place, at in enumerate(case.taken.index)
        if _key(READINGS[at]) in expected
    ]
    return tuple(sorted(found, key=lambda item: -abs(item.weight_against_next)))


def _weights(case: Case, first: str, second: str) -> Array:
    """Natural-log weight of each reading (o): what the comparison loses when the reading is left out."""
    logs = case.sharpened.log_weight[..., None] + without_each(case.fitted)
    left = class_sums(case.sharpened, logs)
    whole = class_sums(case.sharpened, (case.sharpened.log_weight + case.fitted.log_likelihood)[..., None])
    change = whole - left
    return np.asarray(change[CLASSES.index(first)] - change[CLASSES.index(second)])


def _key(name: str) -> str:
    return "airflow_per_capacity" if name == "airflow_ratio" else name


def _one(
    name: str, case: Case, expected: dict[str, Range], against_next: float, against_sound: float
) -> CycleEvidence:
    scale = AIRFLOW_PER_CAPACITY if name == "airflow_ratio" else 1.0
    measured = case.values[name] * scale
    wanted = expected[_key(name)]
    return CycleEvidence(_key(name), wanted, measured, measured - wanted.likely, against_next, against_sound)
