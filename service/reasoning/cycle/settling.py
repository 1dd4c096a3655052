"""What shares of causes settle: the decision that they allow, and what it is worth.

A cause is decided from the share on that the outcome asks for (`reasoning.established` of a fault,
`reasoning.sound-share` of no fault). What a decision is worth rises from nothing there to 1 where it is certain:
at the threshold a wrong decision weighs just what a right one does.
"""

from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES, SOUND
from service.knowledge.limits import limit
from service.physics.arrays import Array
from service.reasoning.cycle.posterior import CAUSES

UNDECIDED = -1
SOUND_CAUSE = CAUSES.index(SOUND)


@cache
def by_cause() -> Array:
    """Share (c, causes) that a class gives each cause: a pair half to each of its two."""
    found = np.zeros((len(CLASSES), len(CAUSES)))
    for row, name in zip(found, CLASSES, strict=True):
        for part in name.split("+"):
            row[CAUSES.index(part)] += 1.0 / len(name.split("+"))
    return found


class Settled(NamedTuple):
    """What shares (..., causes) decide: place of the cause, or ``UNDECIDED``, and what that is worth, 0 to 1."""

    cause: NDArray[np.int64]
    worth: Array


def settle(shares: Array) -> Settled:
    """What may be decided on shares (..., causes)."""
    margins = margin(shares, _least())
    most = margins.max(axis=-1)
    return Settled(np.where(most > 0.0, margins.argmax(axis=-1), UNDECIDED), np.asarray(np.maximum(most, 0.0)))


def _least() -> Array:
    """The share from which on each cause is decided for."""
    least = np.full(len(CAUSES), limit("reasoning.established").value)
    least[SOUND_CAUSE] = limit("reasoning.sound-share").value
    return least


def margin(share: Any, least: Any) -> Any:
    """How far shares stand over their thresholds, as a part of the way to certainty: negative below."""
    return (share - least) / (1.0 - least)
