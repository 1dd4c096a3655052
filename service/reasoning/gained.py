"""What a reading not yet taken is expected to bring: information, and what it changes of the decision.

A reading comes out normal or abnormal with a chance that depends on the cause; the gain is the mutual information
between that outcome and the cause (Lindley 1956, On a measure of the information provided by an experiment). What
a decision is worth stands in ``cycle.settling``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Protocol

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.cycle_model import FAULTS, SOUND
from service.knowledge.limits import limit
from service.knowledge.readings import reading_rows
from service.reasoning.cycle.settling import margin
from service.reasoning.cycle_weighing import class_of
from service.results.answer import Cause
from service.results.cycle import CycleVerdict
from service.results.record import Record

KNOWN_CLASSES = frozenset(FAULTS) | {SOUND}


class Telling(Protocol):
    """What comes out abnormal with a chance that depends on the cause: a reading, or the answer to a question."""

    @property
    def otherwise(self) -> float:
        """Chance under every cause that `abnormal` does not name."""

    @property
    def abnormal(self) -> Mapping[str, float]:
        """Chance by cause."""


class Gained(Record):
    """bits of information; worth: what is added to the worth of what may be decided [0..1]; changes: chance that
    the decision changes."""

    bits: float
    worth: float
    changes: float


NOTHING = Gained(0.0, 0.0, 0.0)


def expected_of(row: Telling, shares: Mapping[str, float]) -> Gained:
    """What one that comes out normal or abnormal brings; shares: probabilities by cause, summing to 1."""
    chances = _chances(row, shares)
    abnormal = {cause: share * chances[cause] for cause, share in shares.items()}
    normal = {cause: share * (1.0 - chances[cause]) for cause, share in shares.items()}
    decided, now = decision_of(shares)
    worth, changes = -now, 0.0
    for joint in (abnormal, normal):
        total = sum(joint.values())
        if total > 0.0:
            then, value = decision_of(joint, total)
            worth += total * value
            changes += total * (then != decided)
    return Gained(_information(chances, shares), max(worth, 0.0), changes)


def decision_of(shares: Mapping[str, float], total: float = 1.0) -> tuple[str, float]:
    """The cause that shares, summing to the total, decide for, '' for none, and what that is worth.

    Each threshold is above one half, so that only the largest share can reach its own.
    """
    if not shares:
        return "", 0.0
    code = max(shares, key=shares.__getitem__)
    over = margin(shares[code] / total, _least()[code])
    return (code, over) if over > 0.0 else ("", 0.0)


@cache
def _least() -> dict[str, float]:
    """The share from which on each cause is decided for."""
    fault, sound = limit("reasoning.established").value, limit("reasoning.sound-share").value
    return {code: sound if row.sound else fault for code, row in cause_rows().items()}


def gained_from_cycle(cycle: CycleVerdict | None, causes: Sequence[Cause]) -> dict[str, Gained]:
    """Gain by reading row as the cycle model expects it, scaled by the share of the causes it knows; empty where
    it does not judge."""
    if cycle is None or not cycle.next_readings:
        return {}
    known = sum(cause.probability for cause in causes if class_of(cause.code) in KNOWN_CLASSES)
    each = cycle.next_readings
    found = {one.reading: Gained(known * one.bits, known * one.worth, known * one.changes) for one in each}
    return {
        row.code: max((found.get(name, NOTHING) for name in row.cycle), key=lambda one: one.bits)
        for row in reading_rows().values()
        if row.cycle
    }


def information(row: Telling, shares: Mapping[str, float]) -> float:
    """Mutual information [bit] between the reading's outcome and the cause.

    shares: probabilities by cause, summing to 1. Returns: 0 (tells nothing) to 1 bit.
    """
    return _information(_chances(row, shares), shares)


def _chances(row: Telling, shares: Mapping[str, float]) -> dict[str, float]:
    """Chance by cause of coming out abnormal."""
    return {cause: row.abnormal.get(cause, row.otherwise) for cause in shares}


def _information(chances: Mapping[str, float], shares: Mapping[str, float]) -> float:
    overall = known = 0.0
    for cause, share in shares.items():
        chance = chances[cause]
        overall += share * chance
        known += share * _entropy_of_row(chance)
    return max(0.0, _binary(overall) - known)


def _binary(chance: float) -> float:
    """Entropy [bit] of a yes/no outcome."""
    if not 0.0 < chance < 1.0:
        return 0.0
    return -(chance * math.log2(chance) + (1.0 - chance) * math.log2(1.0 - chance))


# The chances of the rows are few and stay; what a reading would come out as over all causes is new each time.
_entropy_of_row = lru_cache(maxsize=1024)(_binary)
