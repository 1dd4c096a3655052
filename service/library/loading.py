"""From a document to a visit that can be judged, with the fleet's learnt shares where there are any."""

from __future__ import annotations

from typing import Any

from service.checks.plausible.refusals import refuse_impossible
from service.knowledge.learnt import Learnt
from service.results.record import replace
from service.results.refusal import FieldError, Refusal
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.faults import NOT_AN_OBJECT


def load_visit(document: dict[str, Any], learnt: Learnt | None = None) -> Visit:
    """Load a visit document, SI inside.

    learnt: shares to reason with where the document brings none of its own.
    Raises: Refusal with a pointer for everything that is wrong or cannot be (the contract's closed list).
    """
    if not isinstance(document, dict):
        raise Refusal((FieldError("", NOT_AN_OBJECT.code, NOT_AN_OBJECT.detail, NOT_AN_OBJECT.allowed),))
    visit = with_learnt(load(Visit, document), learnt)
    refuse_impossible(visit)
    return visit


def with_learnt(visit: Visit, learnt: Learnt | None) -> Visit:
    """The visit with the shares that were learnt for its kind; as it is where it has its own or there are none."""
    if learnt is None or visit.priors.labels is not None:
        return visit
    return replace(visit, priors=learnt.priors(visit.visit_date, visit.equipment.kind, visit.complaint.symptoms))
