"""Heavy work: what is drawn, and batches. It is done in a process of its own, piece by piece (see `helper`).

Nothing here knows of HTTP: documents go in that were read and found acceptable, bytes and codes come out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from time import thread_time
from typing import Any

from service.library import assess_one, load_visit
from service.results.finding import Finding, State
from service.results.record import Record
from service.wire.batch_lines import Batch, answer_lines
from service.wire.learnt import learnt_shares

PIECE_SECONDS = 0.03
"""Of processor, after which a batch gives way to the others; a drawing is one piece of a quarter of a second."""
PIECE_BYTES = 256 * 1024


class Piece(Record):
    """A piece of an answer: bytes, whether it is the last, what a browser may load from it, codes found."""

    body: bytes
    last: bool
    policy: str = ""
    codes: tuple[str, ...] = ()


def draw_note(document: dict[str, Any], language: str, _request_id: str) -> Iterator[Piece]:
    """The job note of a visit document, judged here."""
    from service.wire.job_note import note_page

    assessed = assess_one(document, learnt_shares())
    page, policy = note_page(assessed, language)
    yield Piece(page, True, policy, tuple(told(assessed.answer.findings)))


def draw_chart(document: dict[str, Any], language: str, _request_id: str) -> Iterator[Piece]:
    """The pressure-enthalpy chart of a visit document."""
    from service.wire.job_note import chart_drawing

    drawing, policy = chart_drawing(load_visit(document, learnt_shares()), language)
    yield Piece(drawing, True, policy)


def judge_batch(batch: Batch, language: str, request_id: str) -> Iterator[Piece]:
    """The lines of a batch; the text of an answer never depends on where a piece ends."""
    codes: list[str] = []
    lines: list[bytes] = []
    size, started = 0, thread_time()
    note = lambda findings: codes.extend(told(findings))  # noqa: E731
    for line in answer_lines(batch.body, language, batch.size, request_id, note):
        lines.append(line)
        size += len(line)
        if thread_time() - started > PIECE_SECONDS or size > PIECE_BYTES:
            yield Piece(b"".join(lines), False, codes=tuple(codes))
            size, started = 0, thread_time()
            lines.clear()
            codes.clear()
    yield Piece(b"".join(lines), True, codes=tuple(codes))


def told(findings: Iterable[Finding]) -> Iterator[str]:
    """The codes of what failed or is for review; what passed says nothing of the units out there."""
    return (item.code for item in findings if item.state in (State.FAIL, State.REVIEW))


JOBS: dict[str, Callable[[Any, str, str], Iterator[Piece]]] = {
    "note": draw_note,
    "chart": draw_chart,
    "batch": judge_batch,
}
