"""Problem documents (RFC 9457): one way to refuse, whatever went wrong."""

from __future__ import annotations

import json
from typing import Any

from service.knowledge.problem_types import ProblemType, problem_types
from service.results.record import Record, field
from service.results.refusal import FieldError, Refusal, Said, phrase
from service.schemas.lists import problems as declared
from service.schemas.lists.problems import Problem
from service.schemas.writing import written
from service.words.locale import DEFAULT
from service.words.refusing import problem_detail, problem_title, said
from service.words.say import plain_speaker

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
    detail: what to say of this occurrence; when None, what is wrong first, or the text of the problem type.
    errors: what is wrong, each with a pointer.
    headers: response headers that belong to the refusal (Allow, Retry-After, WWW-Authenticate).
    """

    def __init__(
        self,
        code: str,
        detail: Said | None = None,
        errors: tuple[FieldError, ...] = (),
        headers: tuple[tuple[str, str], ...] = (),
    ) -> None:
        super().__init__(code)
        self.kind: ProblemType = problem_types()[code]
        self.detail = detail or (_first_of(errors) if errors else None)
        self.errors = errors
        self.headers = headers

    def said(self, language: str) -> str:
        """The detail in a language."""
        return problem_detail(self.kind.code, language) if self.detail is None else said(self.detail, language)


def _first_of(errors: tuple[FieldError, ...]) -> Said:
    """The first thing to mend, for whoever shows the detail alone, and how many more there are."""
    first = errors[0]
    where = first.parameter or first.pointer
    others = min(len(errors), MOST_ERRORS) - 1
    more = (phrase("problem.more", count=str(others)),) if others else ()
    return (*((f"{where}:",) if where else ()), first.detail, *more)


class Rendered(Record):
    """A problem ready to be sent: status, headers, body and the codes that it carries."""

    status: int
    headers: list[tuple[str, str]]
    body: bytes
    codes: tuple[str, ...] = field(default=())


def of_refusal(refusal: Refusal) -> ProblemError:
    """The 422 problem of a refused document."""
    return ProblemError("request.not-valid", errors=refusal.errors)


def document(error: ProblemError, request_id: str, language: str = DEFAULT) -> dict[str, Any]:
    """The problem document of an error, also for a line of a batch; language: of its texts."""
    kind = error.kind
    problem = Problem(
        type=f"/v1/problems/{kind.code}",
        title=problem_title(kind.code, language),
        status=kind.status,
        detail=error.said(language),
        instance=f"urn:request:{request_id}",
        code=kind.code,
        errors=tuple(_member(entry, language) for entry in error.errors[:MOST_ERRORS]),
    )
    return written(problem, plain_speaker(language))


def render(error: ProblemError, request_id: str, language: str = DEFAULT) -> Rendered:
    """The problem as bytes and headers; needs no framework, so the outermost layer can refuse too."""
    text = json.dumps(document(error, request_id, language), ensure_ascii=True, allow_nan=False)
    body = text.encode() + b"\n"
    about = (("Content-Type", MEDIA_TYPE), ("Content-Language", language), ("Cache-Control", "no-store"))
    headers = [*about, NO_GUESSING, *error.headers]
    return Rendered(error.kind.status, headers, body, tuple(entry.code for entry in error.errors[:MOST_ERRORS]))


def _member(entry: FieldError, language: str) -> declared.ProblemError:
    return declared.ProblemError(
        pointer=entry.pointer,
        code=entry.code,
        detail=said(entry.detail, language),
        allowed=tuple(said(item, language) for item in entry.allowed),
        parameter=entry.parameter,
    )
