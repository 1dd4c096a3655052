"""POST /v1/comparison: was it repaired."""

from flask import Blueprint, Response

from service.library.provenance import provenance
from service.reasoning.before_after import judge_comparison
from service.results.comparison import ComparisonRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.wire import observe
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.words.say import Speaker

BLUEPRINT = Blueprint("comparison", __name__)


@BLUEPRINT.post("/v1/comparison")
def post_comparison() -> Response:
    """Before and after: each finding gone, still there, new or not read again; in the later units."""
    spoken = language()
    request = load(ComparisonRequest, read_document())
    answer = judge_comparison(request)
    observe.judged(answer.findings)
    after = request.after
    speaker = Speaker(after.units, after.site_pressure, spoken)
    return respond(dump(answer, speaker, provenance(), after.reference), language=spoken)
