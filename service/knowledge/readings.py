"""Readings worth asking for, from data/readings: cost, power state and how telling each is."""

from __future__ import annotations

from functools import cache

from service.knowledge.row_types import ByFinding, Numbers, catalogue
from service.knowledge.rows import KnowledgeError
from service.results.record import Record, field


class ReadingRow(Record):
    """abnormal: chance of an abnormal reading under a cause; otherwise: under every other cause.

    brief: power is on for the seconds of a test, so a motor that stands still may have it. safety: it makes the
    work safe and comes before everything while dead is not proven. unit: `heat_pump`, of a part that a unit which
    only cools does not have. metering: devices that it can be asked of; empty for all. told_by: readings that
    tell the same. settles: findings that wait for it, in the states in which they do. cycle: names of the readings
    of the cycle model, which then says what it is worth.
    """

    code: str
    pointers: tuple[str, ...]
    minutes: float
    power: str
    feeds: tuple[str, ...]
    otherwise: float
    abnormal: Numbers
    since: str
    brief: bool = False
    safety: bool = False
    unit: str = ""
    metering: tuple[str, ...] = ()
    told_by: tuple[str, ...] = ()
    settles: ByFinding = field(default_factory=dict)
    cycle: tuple[str, ...] = ()


@cache
def reading_rows() -> dict[str, ReadingRow]:
    """Every row by code. Raises: KnowledgeError for a chance outside 0 to 1."""
    found = catalogue("readings", ReadingRow)
    for row in found.values():
        if not all(0.0 < chance < 1.0 for chance in (row.otherwise, *row.abnormal.values())):
            raise KnowledgeError(f"readings: {row.code}: a chance must lie between 0 and 1")
    return found
