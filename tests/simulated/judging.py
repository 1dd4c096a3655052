"""Visits of a set judged in lots as /v1/assessment judges them, beside their truth."""

from collections.abc import Iterable
from typing import Any

import numpy as np

from service.knowledge.cycle_model import CLASSES
from service.library import Assessed, assess_all
from service.reasoning.cycle.posterior import CAUSES
from service.results.answer import Answer
from service.workshop.build.population_fluids import fit_refrigerant
from tests.simulated.frozen import FrozenSet
from tests.simulated.panel import document
from tests.simulated.populations import ALL, TIE_BREAKERS, HeldOut
from tests.simulated.scoring import FIELD

NONE = "cause.none-found"
MIDDLE = 1.0 / 3.0  # of the range of fault sizes; below it a fault is slight


def judge(visits: Iterable[dict[str, Any]]) -> list[Answer]:
    """The answers to documents, judged in lots. Raises: AssertionError for a document that was refused."""
    found = []
    for line in assess_all(visits, most_seconds=1.0):
        if not isinstance(line, Assessed):
            raise AssertionError(line)
        found.append(line.answer)
    return found


def answers_of(one: FrozenSet) -> list[Answer]:
    """Answers to the visits of a set with all readings."""
    fluids = {group.refrigerant: fit_refrigerant(group.refrigerant) for group in one.visits}
    names = ALL + TIE_BREAKERS
    return judge(document(group, row, fluids[group.refrigerant], names) for group, row in rows_of(one))


def rows_of(one: FrozenSet) -> list[tuple[HeldOut, int]]:
    """Every visit of a set: its group and its place there."""
    return [(group, row) for group in one.visits for row in range(group.label.size)]


def truth_of(one: FrozenSet) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Label, share of the range of fault size and weight of a set's visits (see ``weights_of``)."""
    label = np.array([group.label[row] for group, row in rows_of(one)])
    share = np.array([group.share[row] for group, row in rows_of(one)])
    return label, share, weights_of(one, label)


def weights_of(one: FrozenSet, label: np.ndarray) -> np.ndarray:
    """Weights of visits by their labels: the field prior where causes were drawn alike, else all the same."""
    if not one.ours:
        return np.ones(label.size)
    counts = np.bincount(label, minlength=len(CAUSES))
    return np.array([FIELD[CAUSES[at]] / counts[at] for at in label])


def code_of(name: str) -> str:
    """The contract's code of one of ``CAUSES``."""
    return f"cause.{name.replace('_', '-')}"


def codes_of(label: int) -> set[str]:
    """The contract's codes of one of ``CLASSES``: two of a pair."""
    return {code_of(part) for part in CLASSES[label].split("+")}


def state_of(answer: Answer) -> str:
    """State of the outcome; every visit has one."""
    if answer.outcome is None:
        raise AssertionError(answer)
    return answer.outcome.state
