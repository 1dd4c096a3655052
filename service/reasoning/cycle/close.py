"""The few classes that an answer compares, looked at closely: inverting every component would be waste."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES, SOUND
from service.physics.arrays import Array
from service.reasoning.cycle.case import Cases, picked
from service.reasoning.cycle.joint import EXPECTED
from service.results.record import Record

Ranked = Sequence[tuple[str, float]]
# Places on the axis of the classes looked at; the first is that of ``joint.EXPECTED``.
EXPECTATION, FAULT, SOUND_UNIT, OTHER = 0, 1, 2, 3


class Close(Record):
    """classes (v, n): EXPECTED, the likeliest fault, a sound unit and, where a visit needs it, the next fault.

    The rest as in ``gaussian.Fit``, with n for c; whitening (v, n, g, k, o, o): transposed inverse of the Cholesky
    factor of total.
    """

    classes: NDArray[np.int64]
    total: Array
    difference: Array
    white: Array
    whitening: Array


def look_closely(cases: Cases, ranked: Sequence[Ranked]) -> Close:
    """Gather the classes that the ranking of each visit's causes puts side by side."""
    classes = np.array([_classes(one) for one in ranked])
    if all(first_two_hold_sound(one) for one in ranked):
        classes = classes[:, :OTHER]
    visits, count = np.arange(len(classes)), cases.index.size
    both = picked(cases.fitted.bordered, 2, visits, classes)
    return Close(
        classes=classes,
        total=both[..., :count, :count],
        difference=both[..., count:-count, :count],
        white=picked(cases.fitted.white, 2, visits, classes),
        whitening=picked(cases.fitted.whitening, 2, visits, classes),
    )


def likeliest_fault(ranked: Ranked) -> str:
    """The likeliest fault, even where a sound unit is likelier still."""
    return ranked[1][0] if ranked[0][0] == SOUND else ranked[0][0]


def first_two_hold_sound(ranked: Ranked) -> bool:
    """Whether a sound unit is the leading cause or the next."""
    return SOUND in (ranked[0][0], ranked[1][0])


def _classes(ranked: Ranked) -> tuple[int, ...]:
    return EXPECTED, *(CLASSES.index(name) for name in (likeliest_fault(ranked), SOUND, ranked[1][0]))
