"""Problem documents (RFC 9457): one way to refuse, whatever went wrong."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from service.knowledge.problem_types import ProblemType, problem_types
from service.results.refusal import FieldError, Refusal

MEDIA_TYPE = "application/problem+json"
NO_GUESSING = ("X-Content-Type-Options", "nosniff")
"""No browser shall take a body for something else than its media type says."""
MOST_ERRORS = 50
"""A document can be wrong in thousands of places; the first fifty are enough to mend it."""


class ProblemError(Exception):
    """Raised anywhere in the HTTP layer to answer with a problem document.

    Parameters
    ----------
    code: a code of the table of problem types.
    detail: one sentence for this occurrence; when None, what is wrong first, or the table's own.
    errors: what is wrong, each with a pointer.
    headers: response headers that belong to the refusal (Allow, Retry-After, WWW-Authenticate).
    """

    def __init__(
        self,
        code: str,
        detail: str | None = None,
        errors: tuple[FieldError, ...] = (),
        headers: tuple[tuple[str, str], ...] = (),
    ) -> None:
        super().__init__(code)
        self.kind: ProblemType = problem_types()[code]
        self.detail = detail or (_first_of(errors) if errors else self.kind.detail)
        self.errors = errors
        self.headers = headers


def _first_of(errors: tuple[FieldError, ...]) -> str:
    """The first thing to mend, for whoever shows the detail alone, and how many more there are."""
    first = errors[0]
    where = f"{first.parameter or first.pointer}: " if first.parameter or first.pointer else ""
    more = f" {len(errors) - 1} more in `errors`." if len(errors) > 1 else ""
    return f"{where}{first.detail}{more}"


@dataclass(frozen=True, slots=True)
class Rendered:
    """A problem ready to be sent: status, headers, body and the codes that it carries."""

    status: int
    headers: list[tuple[str, str]]
    body: bytes
    codes: tuple[str, ...] = field(default=())


def of_refusal(refusal: Refusal) -> ProblemError:
    """The 422 problem of a refused document."""
    return ProblemError("request.not-valid", errors=refusal.errors)


def document(error: ProblemError, request_id: str) -> dict[str, Any]:
    """The problem document of an error, also for a line of a batch."""
    kind = error.kind
    return {
        "type": f"/v1/problems/{kind.code}",
        "title": kind.title,
        "status": kind.status,
        "detail": error.detail,
        "instance": f"urn:request:{request_id}",
        "code": kind.code,
        "errors": [_member(entry) for entry in error.errors[:MOST_ERRORS]],
    }


def render(error: ProblemError, request_id: str) -> Rendered:
    """The problem as bytes and headers; needs no framework, so the outermost layer can refuse too."""
    body = json.dumps(document(error, request_id), ensure_ascii=True, allow_nan=False).encode() + b"\n"
    headers = [("Content-Type", MEDIA_TYPE), ("Cache-Control", "no-store"), NO_GUESSING, *error.headers]
    return Rendered(error.kind.status, headers, body, tuple(entry.code for entry in error.errors[:MOST_ERRORS]))


def _member(entry: FieldError) -> dict[str, Any]:
    member: dict[str, Any] = {"pointer": entry.pointer, "code": entry.code, "detail": entry.detail}
    if entry.allowed:
        member["allowed"] = list(entry.allowed)
    if entry.parameter is not None:
        member["parameter"] = entry.parameter
    return member
