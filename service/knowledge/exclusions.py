"""States of a unit that exclude each other: what was seen of a part against what was measured on it.

A state is a row of data/states, a pair that cannot hold at one moment a row of data/exclusions; both come from
the circuit or from common practice, and no pair is written in code.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from service.knowledge.limits import all_limits
from service.knowledge.row_types import Choices, Words, catalogue
from service.results.record import Record, field


class StateRow(Record):
    """A state of a part, and the readings of which any one says that it is in it.

    seen: words of a reading (`yes`, `no` for a flag). above, below: a limit of it. apart: high reading by low one,
    at least `apart_by` from each other. rated: the nameplate value of a reading, of which it is at most
    `rated_percent`; without it the reading leaves the state open. together: states that have to hold as well.
    """

    code: str
    since: str
    seen: Choices = field(default_factory=dict)
    above: Words = field(default_factory=dict)
    below: Words = field(default_factory=dict)
    apart: Words = field(default_factory=dict)
    apart_by: str = ""
    rated: Words = field(default_factory=dict)
    rated_percent: str = ""
    together: tuple[str, ...] = ()

    @property
    def pointers(self) -> tuple[str, ...]:
        """Every member of the visit that the row looks at."""
        apart = (*self.apart, *self.apart.values())
        return (*self.seen, *self.above, *self.below, *apart, *self.rated, *self.rated.values())

    @property
    def limits(self) -> tuple[str, ...]:
        """Every limit that the row asks for."""
        named = (*self.above.values(), *self.below.values(), self.apart_by, self.rated_percent)
        return tuple(code for code in named if code)


class ExclusionRow(Record):
    """Two states that exclude each other. unless: states that explain both, of which any one suffices."""

    code: str
    seen: str
    read: str
    basis: str
    since: str
    source: str = ""
    unless: tuple[str, ...] = ()


@cache
def states() -> dict[str, StateRow]:
    """Every state by code."""
    return catalogue("states", StateRow)


@cache
def exclusions() -> dict[str, ExclusionRow]:
    """Every pair of states that exclude each other, by code."""
    return catalogue("exclusions", ExclusionRow)


def threshold(code: str) -> tuple[float, str]:
    """Value in SI and kind of a limit that a state names."""
    found = all_limits()[code]
    return found.value, found.kind


def exclusion_references() -> list[tuple[str, str, tuple[str, ...], Mapping[str, object]]]:
    """(row, member, codes named, what is allowed there) of every row, but for the pointers."""
    rows, pairs = states().values(), exclusions().values()
    limits = [(row.code, "limit", row.limits, all_limits()) for row in rows]
    together = [(row.code, "together", row.together, states()) for row in rows]
    named = [(row.code, "states", (row.seen, row.read, *row.unless), states()) for row in pairs]
    return [*limits, *together, *named]
