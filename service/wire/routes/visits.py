"""POST /v1/electrical, charge, air, compressor, assessment: one visit document, many questions."""

from collections.abc import Callable

from flask import Blueprint, Response

from service.library import assess_one, load_visit, provenance_of
from service.reasoning import assessment
from service.results.answer import Answer
from service.results.visit import Visit
from service.schemas.dump import dump
from service.wire import observe
from service.wire.drawn import answer_drawn
from service.wire.gate import produces
from service.wire.job_note import HTML
from service.wire.learnt import learnt_shares
from service.wire.reading import language, read_document, representation
from service.wire.responding import respond
from service.wire.visiting import read_visit
from service.words.say import Speaker

BLUEPRINT = Blueprint("visits", __name__)


def answer_visit(visit: Visit, judge: Callable[[Visit], Answer], spoken: str) -> dict[str, object]:
    """Judge a visit and say it."""
    answer = judge(visit)
    speaker = Speaker(visit.units, visit.site_pressure, spoken)
    observe.judged(answer.findings)
    return dump(answer, speaker, provenance_of(visit), visit.reference)


def _respond(judge: Callable[[Visit], Answer]) -> Response:
    spoken = language()
    return respond(answer_visit(read_visit(), judge, spoken), language=spoken)


@BLUEPRINT.post("/v1/electrical")
def post_electrical() -> Response:
    """Electrical verdicts."""
    return _respond(assessment.judge_electrical)


@BLUEPRINT.post("/v1/charge")
def post_charge() -> Response:
    """Charge status."""
    return _respond(assessment.judge_charge)


@BLUEPRINT.post("/v1/air")
def post_air() -> Response:
    """Air side: states, split, airflow, capacity."""
    return _respond(assessment.judge_air)


@BLUEPRINT.post("/v1/compressor")
def post_compressor() -> Response:
    """Is the pump working."""
    return _respond(assessment.judge_compressor)


@BLUEPRINT.post("/v1/expected")
def post_expected() -> Response:
    """What a sound unit would read here and now."""
    return _respond(assessment.judge_expected)


@BLUEPRINT.post("/v1/assessment")
@produces("application/json", HTML)
def post_assessment() -> Response:
    """The whole visit; as a page to print where the caller prefers text/html."""
    as_page, spoken = representation("application/json", HTML) == HTML, language()
    document = read_document()
    if as_page:
        load_visit(document)
        return answer_drawn("note", document, spoken, f"{HTML}; charset=utf-8")
    assessed = assess_one(document, learnt_shares())
    observe.judged(assessed.answer.findings)
    return respond(assessed.document(spoken), language=spoken)
