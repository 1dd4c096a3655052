"""Which checks a complaint calls for before a unit may be called sound."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from service.knowledge.row_types import Groups, catalogue
from service.results.record import Record


class ComplaintRow(Record):
    """passed: finding codes, one of each group must have passed. or_weighed: readings that stand for every group
    once
    the cycle model has weighed them and finds the unit sound."""

    code: str
    passed: Groups
    since: str
    or_weighed: tuple[str, ...] = ()


class CheckGroup(Record):
    """One check that is called for: finding codes of which one passed, or readings that the model has weighed."""

    passed: tuple[str, ...]
    or_weighed: tuple[str, ...]


@cache
def complaint_rows() -> dict[str, ComplaintRow]:
    """Every row by symptom; `always` holds for every visit."""
    return catalogue("complaint_checks", ComplaintRow)


def checks_called_for(symptoms: Sequence[str]) -> tuple[CheckGroup, ...]:
    """The checks that must be answered before the unit is called sound."""
    rows = [complaint_rows()[code] for code in ("always", *symptoms) if code in complaint_rows()]
    found = [CheckGroup(group, row.or_weighed) for row in rows for group in row.passed]
    return tuple(dict.fromkeys(found))
