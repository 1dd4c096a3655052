"""States that exclude each other: what was seen of a part against what was measured on it.

The pairs are rows (`knowledge/exclusions.py`). Which of the two readings is wrong nobody can tell from here: both
are named, both are taken again, and nothing is judged on them meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from service.knowledge.exclusions import ExclusionRow, StateRow, exclusions, states, threshold
from service.results.finding import Finding, State
from service.results.pointers import present_pointers, reader_of
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.judge import above, below
from service.verdicts.report import Checked, report

WORDS = {True: "yes", False: "no"}


class Held(Record):
    """A state that the visit's readings say.

    evidence: the readings, as JSON Pointers. measured: of the reading that was measured, None where it was seen.
    sure: False where a nameplate value that decides is not known.
    """

    evidence: tuple[str, ...]
    measured: Quantity | None = None
    sure: bool = True


@kept
def check_exclusions(visit: Visit) -> Checked:
    """Every pair of states that cannot hold at one moment.

    Source: circuit logic, or common practice; each row says which.
    """
    there = present_pointers(visit)
    rows = [row for pointers, rows in _by_seen() if not pointers.isdisjoint(there) for row in rows]
    return Checked(tuple(finding for row in rows for finding in _excluded(visit, row)))


@cache
def _by_seen() -> tuple[tuple[frozenset[str], tuple[ExclusionRow, ...]], ...]:
    """Pairs by what was seen of a part: most visits have no reading of it."""
    rows = exclusions().values()
    seen = dict.fromkeys(row.seen for row in rows)
    return tuple(
        (frozenset(states()[code].pointers), tuple(row for row in rows if row.seen == code)) for code in seen
    )


def _excluded(visit: Visit, row: ExclusionRow) -> Iterator[Finding]:
    seen = held(visit, row.seen)
    read = held(visit, row.read) if seen is not None else None
    if seen is None or read is None or any(held(visit, code) is not None for code in row.unless):
        return
    measured = read.measured or seen.measured
    yield report(
        "readings.states-exclude",
        State.FAIL if seen.sure and read.sure else State.REVIEW,
        tuple(dict.fromkeys((*seen.evidence, *read.evidence))),
        measured=measured,
        values={"seen_state": row.seen, "read_state": row.read},
        variant="" if measured is not None else "seen",
    )


@kept
def held(visit: Visit, code: str) -> Held | None:
    """What says that the visit is in a state of that code; None where nothing does."""
    row = states()[code]
    found = next(_told(visit, row), None)
    others = [held(visit, other) for other in row.together]
    if found is None or None in others:
        return None
    also = tuple(pointer for other in others if other is not None for pointer in other.evidence)
    return Held((*found.evidence, *also), found.measured, found.sure)


def _told(visit: Visit, row: StateRow) -> Iterator[Held]:
    """What any one reading of the row says."""
    for pointer, words in row.seen.items():
        value = _at(visit, pointer)
        if WORDS.get(value, value) in words:
            yield Held((pointer,))
    for pointer, code in row.above.items():
        value, (least, kind) = _at(visit, pointer), threshold(code)
        if value is not None and above(value, least):
            yield from _within_rating(visit, row, pointer, Quantity(value, kind))
    for pointer, code in row.below.items():
        value, (most, kind) = _at(visit, pointer), threshold(code)
        if value is not None and below(value, most):
            yield Held((pointer,), Quantity(value, kind))
    for high, low in row.apart.items():
        one, other, (least, kind) = _at(visit, high), _at(visit, low), threshold(row.apart_by)
        if one is not None and other is not None and above(one - other, least):
            yield Held((high, low), Quantity(one - other, kind))


def _within_rating(visit: Visit, row: StateRow, pointer: str, read: Quantity) -> Iterator[Held]:
    """A motor that stands under power draws more than its nameplate says: what is read has to lie below it."""
    plate = row.rated.get(pointer)
    if plate is None:
        yield Held((pointer,), read)
        return
    rated = _at(visit, plate)
    if rated is None:
        yield Held((pointer,), read, sure=False)
    elif not above(read.value, threshold(row.rated_percent)[0] / 100.0 * rated):
        yield Held((pointer, plate), read)


def _at(visit: Visit, pointer: str) -> Any:
    return reader_of(pointer)(visit)
