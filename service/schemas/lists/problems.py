"""A problem document, and the list of problem types and error codes."""

from __future__ import annotations

from service.results.declare import sent, sent_if_known
from service.results.record import Record, field
from service.schemas.lists.codes import CodeRow


class ProblemError(Record):
    """One thing that is wrong with a request."""

    pointer: str = field(
        metadata=sent("text", "JSON Pointer (RFC 6901) into the posted document; empty: the whole document.")
    )
    code: str = field(
        metadata=sent("text", "Code of `errors` in GET /v1/problems; the list grows, so let unknown codes pass.")
    )
    detail: str = field(metadata=sent("text", "What to change, for a person."))
    allowed: tuple[str, ...] = field(
        default=(), metadata=sent_if_known("texts", "What would be accepted, in the units of the request.")
    )
    parameter: str | None = field(
        default=None,
        metadata=sent_if_known("text", "Name of the query parameter, where the mistake is not in the body."),
    )


class Problem(Record):
    """A problem document (RFC 9457)."""

    type: str = field(metadata=sent("text", "Relative reference to the description of this type of problem."))
    title: str = field(metadata=sent("text", "The type of problem in a few words."))
    status: int = field(metadata=sent("integer", "The HTTP status.", low=400, high=599))
    detail: str = field(metadata=sent("text", "What to change."))
    instance: str = field(metadata=sent("text", "`urn:request:` and the request id, as in the logs."))
    code: str = field(metadata=sent("text", "Code of GET /v1/problems."))
    errors: tuple[ProblemError, ...] = field(
        metadata=sent("parts", "What is wrong with the request, at most 50.", part=ProblemError, length=50)
    )


class ProblemType(CodeRow):
    """A type of problem."""

    status: int = field(metadata=sent("integer", "The HTTP status.", low=400, high=599))
    detail: str = field(metadata=sent("text", "What it means."))


class ErrorCode(CodeRow):
    """An error code."""


class ProblemList(Record):
    """Every type of problem, and every code that a member of `errors` may carry."""

    problems: tuple[ProblemType, ...] = field(metadata=sent("parts", "Every type of problem.", part=ProblemType))
    errors: tuple[ErrorCode, ...] = field(
        metadata=sent("parts", "Every code of `errors` in a problem document.", part=ErrorCode)
    )
