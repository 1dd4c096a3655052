"""Which reading to take next: expected information gain per minute, safety first, and when to stop.

A reading comes out normal or abnormal with a chance that depends on the cause; the gain is the mutual
information between that outcome and the cause (Lindley 1956, On a measure of the information provided by an
experiment). Where the cycle model judges, it says what the gauges, clamps and air readings are worth.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from operator import attrgetter
from typing import Any, Protocol

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.cycle_model import FAULTS, SOUND
from service.knowledge.limits import limit
from service.knowledge.readings import ReadingRow, reading_rows
from service.reasoning.case import Case
from service.reasoning.cycle_pointers import pointers_of
from service.reasoning.cycle_weighing import class_of
from service.reasoning.decision import awaited_for_sound
from service.reasoning.unit import has, motor_feed
from service.results.answer import Cause, NextReading
from service.results.cycle import CycleVerdict
from service.results.visit import Visit

MOST = 6
KNOWN_CLASSES = frozenset(FAULTS) | {SOUND}


class Telling(Protocol):
    """What comes out abnormal with a chance that depends on the cause: a reading, or the answer to a question."""

    @property
    def otherwise(self) -> float:
        """Chance under every cause that `abnormal` does not name."""

    @property
    def abnormal(self) -> Mapping[str, float]:
        """Chance by cause."""


def next_readings(case: Case) -> tuple[NextReading, ...]:
    """Readings worth their minutes, best first; what makes the work safe comes before everything.

    What was left out as not fitting and, while no fault leads, what the outcome waits for come before what only
    moves the shares.
    """
    safety = _safety(case)
    cycle_bits = _cycle_bits(case.cycle.verdict, case.causes)
    shares = {cause.code: cause.probability for cause in case.causes}
    purpose = "confirm" if _is_settled(case) else "tell_apart"
    offered = []
    awaited = awaited_for_sound(case)
    for asked in _askable():
        row = asked.row
        again = _again(case, row)
        pointer = asked.first_absent(case.visit) or again
        if pointer is None or not _can_be_taken(case, asked):
            continue
        bits = cycle_bits.get(row.code, 0.0) if cycle_bits and row.cycle else information(row, shares)
        if again is not None:
            awaited |= {again}
        if bits >= limit("reasoning.worth-bits").value or pointer in awaited:
            offered.append(NextReading(pointer, row.code, bits, row.minutes, _tells_apart(row, shares), purpose))
    offered.sort(key=lambda item: (item.pointer not in awaited, -item.information_bits / item.minutes, item.why))
    return (*safety, *offered[: MOST - len(safety)])


def _again(case: Case, row: ReadingRow) -> str | None:
    """A reading of the row that fits nothing together with the others: the rest was judged, this one is read
    again."""
    verdict = case.cycle.verdict
    for name in verdict.left_out if verdict is not None else ():
        if name in row.cycle:
            return pointers_of(name)[0]
    return None


def _is_settled(case: Case) -> bool:
    """From here on a reading confirms the leading cause; it does not ask as if the question were open."""
    return case.lead.probability >= limit("reasoning.to-confirm").value


def _can_be_taken(case: Case, asked: Askable) -> bool:
    """Whether the unit has what is read, nothing told it already, and neither power nor a hold forbids it."""
    row, visit = asked.row, case.visit
    powered = row.power == "on" and (case.decision.off or (case.decision.brief and not row.brief))
    held = any(
        (hold.proof_of_dead and row.power == "off") or (hold.forbids_sparks and asked.sparks)
        for hold in (hold_rows()[item.code] for item in case.holds)
    )
    metering = visit.equipment.metering_device
    fits = motor_feed(visit) in row.feeds and has(visit, row.unit)
    metered = not row.metering or metering is None or metering in row.metering
    told = any(value_at(visit, pointer) is not None for pointer in row.told_by)
    return fits and metered and not (powered or held or told)


@dataclass(frozen=True, slots=True)
class Askable:
    """A row of the readings with what does not change from visit to visit.

    members: how each pointer's member is read. sparks: a meter goes to an electrical
    part, which may spark.
    """

    row: ReadingRow
    members: tuple[tuple[str, Callable[[Visit], Any]], ...]
    sparks: bool

    def first_absent(self, visit: Visit) -> str | None:
        """The first of its pointers at which the visit has nothing; None when all was read."""
        for pointer, member in self.members:
            value = member(visit)
            if value is None or value == ():
                return pointer
        return None


@cache
def _askable() -> tuple[Askable, ...]:
    return tuple(
        Askable(
            row,
            tuple((pointer, _member(pointer)) for pointer in row.pointers),
            any(pointer.startswith("/electrical") for pointer in row.pointers),
        )
        for row in reading_rows().values()
        if not row.safety
    )


def _cycle_bits(cycle: CycleVerdict | None, causes: Sequence[Cause]) -> dict[str, float]:
    """Gain by reading row as the cycle model expects it, scaled by the share of the causes it knows."""
    if cycle is None or not cycle.next_readings:
        return {}
    known = sum(cause.probability for cause in causes if class_of(cause.code) in KNOWN_CLASSES)
    gains = {reading.reading: reading.bits for reading in cycle.next_readings}
    return {
        row.code: known * max((gains.get(name, 0.0) for name in row.cycle), default=0.0)
        for row in reading_rows().values()
        if row.cycle
    }


def _safety(case: Case) -> tuple[NextReading, ...]:
    """While dead is not proven, that is the next reading, whatever else it tells."""
    holds = [hold_rows()[hold.code] for hold in case.holds]
    if not any(hold.proof_of_dead for hold in holds):
        return ()
    rows = [row for row in reading_rows().values() if row.safety and motor_feed(case.visit) in row.feeds]
    again = [pointer for hold in holds for pointer in hold.reads_again]
    wanted = [(pointer, row.code) for row in rows for pointer in row.pointers]
    absent = [item for item in wanted if value_at(case.visit, item[0]) is None]
    charged = [item for item in wanted if item[0] in again]
    pointer, code = (absent or charged or wanted[2:])[0]
    return (NextReading(pointer, code, 0.0, limit("reasoning.isolation-minutes").value, (), "make_safe"),)


def value_at(visit: Visit, pointer: str) -> Any:
    """The member of the visit that a pointer names; an empty list counts as absent."""
    value = _member(pointer)(visit)
    return None if value == () else value


@cache
def _member(pointer: str) -> Callable[[Visit], Any]:
    return attrgetter(pointer[1:].replace("/", "."))


def information(row: Telling, shares: Mapping[str, float]) -> float:
    """Mutual information [bit] between the reading's outcome and the cause.

    shares: probabilities by cause, summing to 1. Returns: 0 (tells nothing) to 1 bit.
    """
    overall = known = 0.0
    for cause, share in shares.items():
        chance = row.abnormal.get(cause, row.otherwise)
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


def _tells_apart(row: ReadingRow, shares: Mapping[str, float]) -> tuple[str, ...]:
    """The two or three likeliest causes that this reading points at or clears."""
    named = [cause for cause in shares if cause in row.abnormal]
    others = [cause for cause in shares if cause not in row.abnormal]
    return tuple(named[:2] + others[:1])
