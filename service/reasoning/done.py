"""What was posted and stands firm is done: it is neither asked for nor ordered again."""

from __future__ import annotations

from service.knowledge.catalogues import StepRow
from service.reasoning.case import Case
from service.results.finding import Confidence, State

OPEN = (State.FAIL, State.REVIEW)


def is_done(case: Case, step: StepRow) -> bool:
    """Whether all readings of one of the step's groups are in the document and none of them is in doubt."""
    return any(group and is_firm(case, group) for group in step.yields)


def is_firm(case: Case, pointers: tuple[str, ...]) -> bool:
    """Whether readings were posted, have settled, are not contradicted, and leave no verdict on the edge."""
    if not case.read.issuperset(pointers) or not case.unsettled.isdisjoint(pointers):
        return False
    edge = {
        pointer
        for item in case.findings
        if item.confidence is Confidence.BORDERLINE and item.state in OPEN
        for pointer in item.evidence
    }
    return edge.isdisjoint(pointers)
