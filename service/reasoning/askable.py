"""Rows of the readings with what does not change from visit to visit, and which of them a unit can have."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from service.knowledge.kinds import kind_row
from service.knowledge.readings import ReadingRow, reading_rows
from service.reasoning.unit import has, motor_feed
from service.results.pointers import reader_of
from service.results.record import Record
from service.results.visit import Visit


class Askable(Record):
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

    def is_of(self, visit: Visit) -> bool:
        """Whether the unit can have what is read, and nothing told it already."""
        row, metering = self.row, visit.equipment.metering_device
        kind = kind_row(visit.equipment.kind)
        has_it = not kind.lacks or all(kind.has_reading(pointer) for pointer in row.pointers)
        fits = has_it and motor_feed(visit) in row.feeds and has(visit, row.unit)
        metered = not row.metering or metering is None or metering in row.metering
        return fits and metered and all(value_at(visit, pointer) is None for pointer in row.told_by)


@cache
def askable() -> tuple[Askable, ...]:
    """Every reading that is taken to tell something, not to make the work safe."""
    return tuple(
        Askable(
            row,
            tuple((pointer, reader_of(pointer)) for pointer in row.pointers),
            any(pointer.startswith("/electrical") for pointer in row.pointers),
        )
        for row in reading_rows().values()
        if not row.safety
    )


def value_at(visit: Visit, pointer: str) -> Any:
    """The member of the visit that a pointer names; an empty list counts as absent."""
    value = reader_of(pointer)(visit)
    return None if value == () else value
