"""Documents judged in lots: each stage runs over the whole lot, and a lot never takes long."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from time import thread_time
from typing import Any, TypeVar

from service.knowledge.learnt import Learnt
from service.library.answered import Answered, Assessed, Failed, Refused
from service.library.loading import load_visit
from service.reasoning import assessment
from service.results.answer import Answer
from service.results.refusal import Refusal
from service.results.visit import Visit

Item = TypeVar("Item")
MOST_SECONDS = 0.03
"""Of judging in one piece: with one more visit than was planned and one answer written it stays below 50 ms.

Of processor: where others use the machine too, smaller lots would cost everybody more and let nobody in sooner.
"""
FIRST_LOT, LARGEST_LOT = 2, 16
"""Visits in the first lot, when nothing is known of the machine yet, and at most; more gain nothing."""


def assess_all(
    documents: Iterable[dict[str, Any]], *, learnt: Learnt | None = None, most_seconds: float = MOST_SECONDS
) -> Iterator[Answered]:
    """Judge visit documents, in order, as lazily as they come.

    Parameters
    ----------
    documents: visit documents as `json.loads` gives them (the contract's `Visit`); read one lot at a time, so a
        generator over millions of them keeps memory flat.
    learnt: a fleet's own shares of causes, for documents that bring none (`read_learnt` reads the file).
    most_seconds: about how long judging may take in one piece before the caller has its turn again [s of
        processor], above 0.
        The next lot has as many visits as fit at the pace of the last one, at most 16.

    Yields
    ------
    For each document `Assessed`, `Refused` (what is wrong, by pointer) or `Failed` (a defect of ours). A refused
    document is taken out before its lot is judged, so it costs its neighbours nothing. What an answer says does
    not depend on its neighbours.

    Raises
    ------
    Nothing of its own; what `documents` raises while it is read.

    Examples
    --------
    >>> a_word = {"running": {"suction_pressure": "118"}}
    >>> found = list(assess_all([{"complaint": {"symptoms": ["no_start"]}}, a_word]))
    >>> [type(line).__name__ for line in found]
    ['Assessed', 'Refused']
    >>> found[1].refusal.errors[0].pointer
    '/running/suction_pressure'
    """
    source = iter(documents)
    size = FIRST_LOT
    while lot := list(islice(source, size)):
        started = thread_time()
        judged = _judged(lot, learnt)
        each = (thread_time() - started) / len(lot)
        size = max(1, min(LARGEST_LOT, int(most_seconds / max(each, 1e-9))))
        yield from judged


def assess_one(document: dict[str, Any], learnt: Learnt | None = None) -> Assessed:
    """Judge one visit document: the lot of one. Raises: Refusal for what is wrong with it, and what failed."""
    (found,) = assess_all((document,), learnt=learnt)
    if isinstance(found, Refused):
        raise found.refusal
    if isinstance(found, Failed):
        raise found.error
    return found


def assess_beside(
    items: Iterable[tuple[Item, dict[str, Any] | None]],
    *,
    learnt: Learnt | None = None,
    most_seconds: float = MOST_SECONDS,
) -> Iterator[tuple[Item, Answered | None]]:
    """As `assess_all`, for documents that belong to something: each item with what came of its document, in order.

    items: anything, with its document; None where there is none, which is in no lot and comes back as None.
    """
    waiting: deque[tuple[Item, bool]] = deque()

    def documents() -> Iterator[dict[str, Any]]:
        for item, document in items:
            waiting.append((item, document is not None))
            if document is not None:
                yield document

    for found in assess_all(documents(), learnt=learnt, most_seconds=most_seconds):
        while not waiting[0][1]:
            yield waiting.popleft()[0], None
        yield waiting.popleft()[0], found
    for item, _ in waiting:
        yield item, None


def _judged(lot: Sequence[dict[str, Any]], learnt: Learnt | None) -> list[Answered]:
    """The lot, in order; what is refused is left out of the judging."""
    found: list[Answered | Visit] = [_accepted(document, learnt) for document in lot]
    visits = [item for item in found if isinstance(item, Visit)]
    answers = iter(_answers(visits))
    return [next(answers) if isinstance(item, Visit) else item for item in found]


def _accepted(document: dict[str, Any], learnt: Learnt | None) -> Visit | Refused | Failed:
    try:
        return load_visit(document, learnt)
    except Refusal as refusal:
        return Refused(refusal)
    except Exception as error:
        return Failed(error)


def _answers(visits: Sequence[Visit]) -> list[Answered]:
    """The answers of a lot; only where one of it fails are they judged one by one, for the others' sake."""
    try:
        return [Assessed(visit, answer) for visit, answer in zip(visits, _assessed(visits), strict=True)]
    except Exception as error:
        if len(visits) == 1:
            return [Failed(error)]
    return [_answers((visit,))[0] for visit in visits]


def _assessed(visits: Sequence[Visit]) -> Sequence[Answer]:
    return assessment.assess_all(visits)
