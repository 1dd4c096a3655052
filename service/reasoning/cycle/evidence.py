"""What each reading says for the leading cause: expected, measured, difference, weight."""

from service.knowledge.cycle_model import CLASSES, SOUND
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.case import Case
from service.reasoning.cycle.gaussian import alone_each, without_each
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.posterior import class_sums
from service.results.cycle import CycleEvidence, Range


def evidence(case: Case, causes: list[tuple[str, float]], expected: dict[str, Range]) -> tuple[CycleEvidence, ...]:
    """Evidence of every reading taken that a sound unit has an expectation for, the weightiest first."""
    ranked = [name for name, _ in causes]
    change = _changes(case)
    sound = CLASSES.index(SOUND)
    fault = CLASSES.index(next(name for name in ranked if name != SOUND))
    against_next = change[CLASSES.index(ranked[0])] - change[CLASSES.index(ranked[1])]
    against_sound = change[fault] - change[sound]
    found = [
        _one(READINGS[at], case, expected, float(against_next[place]), float(against_sound[place]))
        for place, at in enumerate(case.taken.index)
        if _key(READINGS[at]) in expected
    ]
    return tuple(sorted(found, key=lambda item: -abs(item.weight_against_next)))


def _changes(case: Case) -> Array:
    """Log-likelihood (classes, o) that each class owes to each reading.

    Half of what a reading says alone and half of what would be lost without it: readings that bear each other out
    would otherwise all look idle, and readings that are read together would be counted in full each.
    """
    weight = case.sharpened.log_weight
    whole = class_sums((weight + case.fitted.log_likelihood)[..., None])
    left = class_sums(weight[..., None] + without_each(case.fitted))
    none = class_sums(weight[..., None])
    alone = class_sums(weight[..., None] + alone_each(case.sharpened.covariance, case.taken, case.fitted))
    return 0.5 * (whole - left) + 0.5 * (alone - none)


def _key(name: str) -> str:
    return "airflow_per_capacity" if name == "airflow_ratio" else name


def _one(
    name: str, case: Case, expected: dict[str, Range], against_next: float, against_sound: float
) -> CycleEvidence:
    scale = AIRFLOW_PER_CAPACITY if name == "airflow_ratio" else 1.0
    measured = case.values[name] * scale
    wanted = expected[_key(name)]
    return CycleEvidence(_key(name), wanted, measured, measured - wanted.likely, against_next, against_sound)
