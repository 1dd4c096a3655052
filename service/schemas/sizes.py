"""How much of an answer is sent: all of it, without what passed, or what the office books with."""

from functools import cache

from service.results.answer import Answer
from service.results.declare import declared_members
from service.results.finding import State
from service.results.record import replace

FULL, SHORT, OUTCOME = "full", "short", "outcome"
SIZES = (FULL, SHORT, OUTCOME)
TOLD = (State.FAIL, State.REVIEW, State.UNDECIDED)
LEAST_SHARE = 0.01
"""A cause with a smaller share is left out of a short answer; project choice."""
KEPT = frozenset({"outcome", "holds", "questions", "load_list", "baseline_to_keep"})
"""What the smallest size keeps: holds stop the work, so they never go missing."""


def cut(answer: Answer, size: str) -> Answer:
    """An answer without what its size leaves out, of which then nothing is put into words.

    Every list stays a list, so that one shape holds for all sizes. size: full (nothing left out), short (what
    passed is a list of codes, see `passed`; causes under 1 % are left out) or outcome (every list but the holds is
    empty).
    """
    if size == SHORT:
        told = tuple(item for item in answer.findings if item.state in TOLD)
        likely = tuple(item for item in answer.causes if item.probability >= LEAST_SHARE)
        return replace(answer, findings=told, causes=likely)
    if size == OUTCOME:
        return replace(answer, **{name: type(getattr(answer, name))() for name in _left_out()})
    return answer


@cache
def _left_out() -> tuple[str, ...]:
    return tuple(name for name, _ in declared_members(Answer) if name not in KEPT)


def passed(answer: Answer) -> list[str]:
    """Codes of the checks that passed and that no other reading failed, in the order of the findings."""
    told = {item.code for item in answer.findings if item.state in TOLD}
    found = dict.fromkeys(item.code for item in answer.findings if item.state is State.PASS)
    return [code for code in found if code not in told]
