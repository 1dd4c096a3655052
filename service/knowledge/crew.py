"""How many people a visit takes, from data/crew."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache

from service.knowledge.row_types import catalogue
from service.results.record import Record

ALONE = 1


class CrewRow(Record):
    """What asks for people: a needed part, or where the unit stands (words of /site/equipment_location)."""

    code: str
    people: int
    basis: str
    since: str
    source: str = ""
    parts: tuple[str, ...] = ()
    locations: tuple[str, ...] = ()


@cache
def crew_rows() -> dict[str, CrewRow]:
    """Every row by its code."""
    return catalogue("crew", CrewRow)


def people_for(needed: Collection[str], location: str | None) -> int:
    """People to send, 1 to 4: for the codes of needed parts, and where the unit stands."""
    rows = crew_rows().values()
    wanted = [row.people for row in rows if location in row.locations or not set(row.parts).isdisjoint(needed)]
    return max(wanted, default=ALONE)
