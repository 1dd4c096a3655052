"""Who may be in the building and at risk from heat, from data/people, gravest first."""

from __future__ import annotations

from functools import cache

from service.knowledge.row_types import catalogue
from service.results.record import Record


class PersonRow(Record):
    """no_cooling, otherwise: how soon somebody must come; empty where nobody is at risk. reason: the sentence why.

    advice: what the customer is told meanwhile.
    """

    code: str
    since: str
    no_cooling: str = ""
    otherwise: str = ""
    reason: str = ""
    advice: tuple[str, ...] = ()


@cache
def people_rows() -> dict[str, PersonRow]:
    """Each by its word in the document."""
    return catalogue("people", PersonRow)
