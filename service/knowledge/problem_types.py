"""The table of problem types (RFC 9457) and of the codes in `errors`."""

from __future__ import annotations

from functools import cache

from service.knowledge.rows import by_code
from service.results.record import Record


class ProblemType(Record):
    """One kind of refusal or failure, as listed by /v1/problems; its words stand in its row."""

    code: str
    status: int
    severity: str
    source: str
    since: str


class ErrorCode(Record):
    """One code of the members of `errors`; its words stand in its row."""

    code: str
    since: str
    severity: str = "warning"
    source: str = "project choice"


@cache
def problem_types() -> dict[str, ProblemType]:
    """Every problem type by its code, in the order of the table."""
    found = by_code("problems", status=True, severity=True, source=True, since=True)
    return {code: ProblemType(**row) for code, row in found.items()}


@cache
def error_codes() -> dict[str, ErrorCode]:
    """Every error code, in the order of the table."""
    found = by_code("error_codes", severity=False, source=False, since=True)
    return {code: ErrorCode(**row) for code, row in found.items()}
