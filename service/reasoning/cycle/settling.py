"""What shares of causes settle: the decision that they allow, and what it is worth.

A cause is decided from the share on that the outcome asks for (`reasoning.established` of a fault,
`reasoning.sound-share` of no fault). What a decision is worth rises from nothing there to 1 where it is certain:
at the threshold a wrong decision weighs just what a right one does.
"""

from functools import cache
from typing import Any

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


def worth(shares: Array) -> Array:
    """What may be decided on shares (..., causes) is worth: 0 while undecided, to 1."""
    return np.asarray(np.maximum(_margins(shares).max(axis=-1), 0.0))


def decided(shares: Array) -> NDArray[np.int64]:
    """Place of the cause that shares (..., causes) decide for, or ``UNDECIDED``."""
    margins = _margins(shares)
    return np.where(margins.max(axis=-1) > 0.0, margins.argmax(axis=-1), UNDECIDED)


def _margins(shares: Array) -> Array:
    """How far each cause stands over its threshold, as a part of the way to certainty."""
    least = np.full(len(CAUSES), limit("reasoning.established").value)
    least[SOUND_CAUSE] = limit("reasoning.sound-share").value
    return np.asarray(margin(shares, least))


def margin(share: Any, least: Any) -> Any:
    """How far shares stand over their thresholds, as a part of the way to certainty: negative below."""
    return (share - least) / (1.0 - least)
