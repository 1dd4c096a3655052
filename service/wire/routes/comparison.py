"""POST /v1/comparison: was it repaired."""

from flask import Blueprint, Response

from service.library import provenance_of, with_learnt
from service.reasoning.before_after import judge_comparison
from service.results.comparison import ComparisonComputed, ComparisonRequest
from service.results.record import replace
from service.schemas.answer_shape import answer_of
from service.schemas.documents import load
from service.schemas.dump import dump
from service.wire import observe
from service.wire.described import Example, described
from service.wire.learnt import learnt_shares
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.words.say import speaker_of

BLUEPRINT = Blueprint("comparison", __name__)
ComparisonAnswer = answer_of("ComparisonAnswer", ComparisonComputed, keeps=True)
EXAMPLES = (
    Example("charge", "Charge weighed in after a repair", "comparison/charge-repaired.json"),
    Example("capacitor", "Run capacitor replaced", "comparison/capacitor-replaced.json"),
)


@BLUEPRINT.post("/v1/comparison")
@described("compareVisits", "Visits", request=ComparisonRequest, answer=ComparisonAnswer, examples=EXAMPLES)
def post_comparison() -> Response:
    """Verify a repair.

    Both visits judged, each finding gone, still there, new or not rechecked, the readings normalized for the
    weather of each day.
    """
    spoken = language()
    posted, learnt = load(ComparisonRequest, read_document()), learnt_shares()
    before, after = (with_learnt(visit, learnt) for visit in (posted.before, posted.after))
    answer = judge_comparison(replace(posted, before=before, after=after))
    observe.judged(answer.findings)
    speaker = speaker_of(after, spoken)
    return respond(dump(answer, speaker, provenance_of(after, answer), after.reference), language=spoken)
