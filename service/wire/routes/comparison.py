"""POST /v1/comparison: was it repaired."""

from dataclasses import replace

from flask import Blueprint, Response

from service.library import provenance_of, with_learnt
from service.reasoning.before_after import judge_comparison
from service.results.comparison import ComparisonRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.wire import observe
from service.wire.learnt import learnt_shares
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.words.say import Speaker

BLUEPRINT = Blueprint("comparison", __name__)


@BLUEPRINT.post("/v1/comparison")
def post_comparison() -> Response:
    """Before and after: each finding gone, still there, new or not read again; in the later units."""
    spoken = language()
    posted, learnt = load(ComparisonRequest, read_document()), learnt_shares()
    before, after = (with_learnt(visit, learnt) for visit in (posted.before, posted.after))
    answer = judge_comparison(replace(posted, before=before, after=after))
    observe.judged(answer.findings)
    speaker = Speaker(after.units, after.site_pressure, spoken)
    return respond(dump(answer, speaker, provenance_of(after), after.reference), language=spoken)
