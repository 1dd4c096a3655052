"""The lines of a batch, judged in lots and answered in order; memory does not grow with their number."""

from __future__ import annotations

import io
import logging
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from service.library import Answered, Assessed, Failed, assess_beside
from service.results.refusal import FieldError
from service.wire import metrics, observe, strict_json
from service.wire.problems import ProblemError, document, of_refusal
from service.wire.reading import BODY_LIMIT
from service.wire.responding import encode

LOG = logging.getLogger("service")
MOST_LINES = 1000
REFERENCE_LENGTH = 64


class Line(NamedTuple):
    """A line with text: its number from 1, and what stands in it or why that cannot be read."""

    number: int
    content: dict[str, Any]
    problem: ProblemError | None = None


def require_countable(body: bytes) -> None:
    """Refuse a batch of no visit (400) or of more than a thousand (413); lines without text do not count."""
    count = sum(1 for line in io.BytesIO(body) if line.strip())
    if count > MOST_LINES:
        raise ProblemError("request.too-large", f"A batch has at most {MOST_LINES} lines; this one has {count}.")
    if count == 0:
        error = FieldError("", "json.empty", "The body is empty; it must hold a visit document on each line.")
        raise ProblemError("request.not-json", errors=(error,))


def answer_lines(body: bytes, language: str, request_id: str) -> Iterator[bytes]:
    """One line of answer for each line with text, in order.

    body: visit documents as newline-delimited JSON. language: of the texts. request_id: goes into the problem
    documents of refused lines.
    """
    read = read_lines(io.BytesIO(body))
    lines = ((line, line.content if line.problem is None else None) for line in read)
    for line, found in assess_beside(lines):
        yield encode(_answer(line, found, language, request_id)) + b"\n"


def read_lines(lines: Iterable[bytes]) -> Iterator[Line]:
    """The lines with text, strictly read; whatever is wrong with one stays in it."""
    for number, line in enumerate(lines, 1):
        if line.strip():
            try:
                yield Line(number, read_line(line))
            except ProblemError as problem:
                yield Line(number, {}, problem)


def _answer(line: Line, found: Answered | None, language: str, request_id: str) -> dict[str, Any]:
    reference = reference_of(line.content)
    begun: dict[str, Any] = {"line": line.number} | ({} if reference is None else {"reference": reference})
    if isinstance(found, Assessed):
        observe.judged(found.answer.findings)
        return {**begun, "status": 200, "assessment": found.document(language)}
    problem = line.problem if found is None else problem_of(found)
    assert problem is not None
    if isinstance(found, Failed):
        said = "unexpected exception in line %d of a batch"
        LOG.error(said, line.number, exc_info=found.error, extra={"request_id": request_id})
    metrics.count_refusal(problem.kind.code, (entry.code for entry in problem.errors))
    return {**begun, "status": problem.kind.status, "problem": document(problem, request_id)}


def problem_of(found: Answered) -> ProblemError:
    """The problem of a document that was not judged."""
    assert not isinstance(found, Assessed)
    return ProblemError("server.internal-error") if isinstance(found, Failed) else of_refusal(found.refusal)


def read_line(line: bytes) -> dict[str, Any]:
    """The JSON object of a line. Raises: ProblemError for one that is too long or not strict JSON."""
    text = line.rstrip(b"\r\n")
    if len(text) > BODY_LIMIT:
        raise ProblemError("request.too-large", f"A line of a batch has at most {BODY_LIMIT} bytes.")
    return strict_json.parse(text)


def reference_of(content: dict[str, Any]) -> str | None:
    """The caller's reference, where it is one; a line that is no document has none."""
    given = content.get("reference")
    is_one = type(given) is str and 0 < len(given) <= REFERENCE_LENGTH and given.isprintable()
    return given if is_one else None
