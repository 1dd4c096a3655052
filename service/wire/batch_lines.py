"""The lines of a batch, judged in lots and answered in order; memory does not grow with their number."""

from __future__ import annotations

import io
import logging
from collections.abc import Callable, Iterable, Iterator
from typing import Any, NamedTuple

from service.library import Answered, Assessed, Failed, assess_beside
from service.results.finding import Finding
from service.results.record import Record
from service.results.refusal import FieldError, phrase
from service.schemas.faults import escape
from service.wire import metrics, strict_json
from service.wire.learnt import learnt_shares
from service.wire.problems import ProblemError, document, of_refusal
from service.wire.reading import BODY_LIMIT
from service.wire.responding import encode

LOG = logging.getLogger("service")
MOST_LINES = 1000
MOST_ANSWER = 64 * 1024 * 1024
"""Bytes of a batch's answer after which no more of its lines are judged."""
VISITS = "visits"
REFERENCE_LENGTH = 64


class Line(NamedTuple):
    """A line with text: its number from 1, and what stands in it or why that cannot be read."""

    number: int
    content: dict[str, Any]
    problem: ProblemError | None = None


def require_countable(body: bytes) -> None:
    """Refuse a batch of no visit (400) or of more than a thousand lines (413), those without text included."""
    count = body.count(b"\n") + (not body.endswith(b"\n"))
    if count > MOST_LINES:
        said = phrase("size.lines", most=str(MOST_LINES), count=str(count))
        raise ProblemError("request.too-large", said)
    if not body.strip():
        error = FieldError("", "json.empty", phrase("json.empty-batch"))
        raise ProblemError("request.not-json", errors=(error,))


def answer_lines(
    body: bytes, language: str, size: str, request_id: str, note: Callable[[Iterable[Finding]], None]
) -> Iterator[bytes]:
    """One line of answer for each line with text, in order; once there are 64 MiB of them, lines are only refused.

    body: visit documents as newline-delimited JSON. language: of the texts. size: of the answers. request_id: goes
    into the problem documents of refused lines. note: told the findings of each line that was judged.
    """
    sent = 0

    def wanted() -> Iterator[tuple[Line, dict[str, Any] | None]]:
        for read in read_lines(io.BytesIO(body)):
            line = read if sent < MOST_ANSWER else read._replace(problem=_too_much())
            yield line, line.content if line.problem is None else None

    for line, found in assess_beside(wanted(), learnt=learnt_shares()):
        if isinstance(found, Assessed):
            note(found.answer.findings)
        answer = encode(_answer(line, found, language, size, request_id)) + b"\n"
        sent += len(answer)
        yield answer


class Batch(Record):
    """A batch to be judged: visit documents as newline-delimited JSON, and the size of the answers."""

    body: bytes
    size: str

    def __len__(self) -> int:
        return len(self.body)


def lines_of_document(body: bytes) -> bytes:
    """A batch that came as one JSON document, as lines. Raises: ProblemError 400, 413 or 422."""
    content = strict_json.parse(body)
    visits = content.get(VISITS)
    if set(content) != {VISITS} or type(visits) is not list or not visits:
        raise ProblemError("request.not-valid", errors=(_no_batch(content),))
    if len(visits) > MOST_LINES:
        detail = phrase("size.visits", most=str(MOST_LINES), count=str(len(visits)))
        raise ProblemError("request.too-large", detail)
    return b"\n".join(encode(visit) for visit in visits)


def _no_batch(content: dict[str, Any]) -> FieldError:
    strange = sorted(set(content) - {VISITS})
    detail = phrase("document.batch", most=str(MOST_LINES))
    if strange:
        return FieldError(f"/{escape(strange[0])}", "document.unknown-member", detail, (VISITS,))
    return FieldError(f"/{VISITS}", "document.list-empty", detail)


def read_lines(lines: Iterable[bytes]) -> Iterator[Line]:
    """The lines with text, strictly read; whatever is wrong with one stays in it."""
    for number, line in enumerate(lines, 1):
        if line.strip():
            try:
                yield Line(number, read_line(line))
            except ProblemError as problem:
                yield Line(number, {}, problem)


def _answer(line: Line, found: Answered | None, language: str, size: str, request_id: str) -> dict[str, Any]:
    reference = reference_of(line.content)
    begun: dict[str, Any] = {"line": line.number} | ({} if reference is None else {"reference": reference})
    if isinstance(found, Assessed):
        return {**begun, "status": 200, "assessment": found.document(language, size)}
    problem = line.problem if found is None else problem_of(found)
    assert problem is not None
    if isinstance(found, Failed):
        said = "unexpected exception in line %d of a batch"
        LOG.error(said, line.number, exc_info=found.error, extra={"request_id": request_id})
    metrics.count_refusal(problem.kind.code, (entry.code for entry in problem.errors))
    return {**begun, "status": problem.kind.status, "problem": document(problem, request_id, language)}


def _too_much() -> ProblemError:
    said = phrase("size.answer", most=str(MOST_ANSWER))
    return ProblemError("request.too-large", said)


def problem_of(found: Answered) -> ProblemError:
    """The problem of a document that was not judged."""
    assert not isinstance(found, Assessed)
    return ProblemError("server.internal-error") if isinstance(found, Failed) else of_refusal(found.refusal)


def read_line(line: bytes) -> dict[str, Any]:
    """The JSON object of a line. Raises: ProblemError for one that is too long or not strict JSON."""
    text = line.rstrip(b"\r\n")
    if len(text) > BODY_LIMIT:
        raise ProblemError("request.too-large", phrase("size.line", most=str(BODY_LIMIT)))
    return strict_json.parse(text)


def reference_of(content: dict[str, Any]) -> str | None:
    """The caller's reference, where it is one; a line that is no document has none."""
    given = content.get("reference")
    is_one = type(given) is str and 0 < len(given) <= REFERENCE_LENGTH and given.isprintable()
    return given if is_one else None
