"""The lines of a batch, each judged on its own and in order; memory does not grow with their number."""

from __future__ import annotations

import io
import logging
from collections.abc import Callable, Iterator
from typing import Any

from service.results.refusal import FieldError, Refusal
from service.wire import metrics, strict_json
from service.wire.problems import ProblemError, document, of_refusal
from service.wire.reading import BODY_LIMIT
from service.wire.responding import encode

LOG = logging.getLogger("service")
MOST_LINES = 1000
REFERENCE_LENGTH = 64
Judge = Callable[[dict[str, Any]], dict[str, Any]]


def require_countable(body: bytes) -> None:
    """Refuse a batch of no visit (400) or of more than a thousand (413); lines without text do not count."""
    count = sum(1 for line in io.BytesIO(body) if line.strip())
    if count > MOST_LINES:
        raise ProblemError("request.too-large", f"A batch has at most {MOST_LINES} lines; this one has {count}.")
    if count == 0:
        error = FieldError("", "json.empty", "The body is empty; it must hold a visit document on each line.")
        raise ProblemError("request.not-json", errors=(error,))


def answer_lines(body: bytes, judge: Judge, request_id: str) -> Iterator[bytes]:
    """One line of answer for each line with text, in order.

    body: visit documents as newline-delimited JSON. judge: what answers one document.
    request_id: goes into the problem documents of refused lines.
    """
    for number, line in enumerate(io.BytesIO(body), 1):
        if line.strip():
            yield encode(_answer(number, line, judge, request_id)) + b"\n"


def _answer(number: int, line: bytes, judge: Judge, request_id: str) -> dict[str, Any]:
    """The answer to one line; whatever is wrong with it stays in it."""
    content: dict[str, Any] = {}
    try:
        content = _read(line)
        return {"line": number, **_reference(content), "status": 200, "assessment": judge(content)}
    except ProblemError as error:
        problem = error
    except Refusal as refusal:
        problem = of_refusal(refusal)
    except Exception:
        LOG.exception("unexpected exception in line %d of a batch", number, extra={"request_id": request_id})
        problem = ProblemError("server.internal-error")
    metrics.count_refusal(problem.kind.code, (entry.code for entry in problem.errors))
    return {
        "line": number,
        **_reference(content),
        "status": problem.kind.status,
        "problem": document(problem, request_id),
    }


def _read(line: bytes) -> dict[str, Any]:
    text = line.rstrip(b"\r\n")
    if len(text) > BODY_LIMIT:
        raise ProblemError("request.too-large", f"A line of a batch has at most {BODY_LIMIT} bytes.")
    return strict_json.parse(text)


def _reference(content: dict[str, Any]) -> dict[str, str]:
    """The caller's reference, where it is one; a line that is no document has none."""
    given = content.get("reference")
    if type(given) is str and 0 < len(given) <= REFERENCE_LENGTH and given.isprintable():
        return {"reference": given}
    return {}
