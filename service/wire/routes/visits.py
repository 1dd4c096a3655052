"""POST /v1/electrical, charge, air, compressor, assessment, note, customer-page: one visit, many questions."""

from collections.abc import Callable
from typing import Any

from flask import Blueprint, Response

from service.library import Assessed, assess_one, load_visit
from service.reasoning import assessment
from service.results.answer import Answer
from service.results.visit import Visit
from service.schemas.sizes import FULL, SHORT, SIZES
from service.wire import observe
from service.wire.drawn import answer_drawn
from service.wire.gate import produces, query_parameters
from service.wire.job_note import HTML, customers_page
from service.wire.learnt import learnt_shares
from service.wire.reading import language, read_document, representation
from service.wire.responding import respond, send
from service.wire.sizes import SIZE, asked_size
from service.wire.visiting import read_visit

BLUEPRINT = Blueprint("visits", __name__)
PAGE = f"{HTML}; charset=utf-8"
PART_SIZES = (FULL, SHORT)
"""What is about a part of the visit has no outcome."""


def answer_visit(judge: Callable[[Visit], Answer], sizes: tuple[str, ...]) -> Response:
    """Judge the posted visit and say it. Raises: Refusal for impossible readings (the contract's closed list)."""
    spoken, size = language(), asked_size(sizes)
    visit = read_visit()
    assessed = Assessed(visit, judge(visit))
    observe.judged(assessed.answer.findings)
    return respond(assessed.document(spoken, size), language=spoken)


@BLUEPRINT.post("/v1/electrical")
@query_parameters(SIZE)
def post_electrical() -> Response:
    """Electrical verdicts."""
    return answer_visit(assessment.judge_electrical, PART_SIZES)


@BLUEPRINT.post("/v1/charge")
@query_parameters(SIZE)
def post_charge() -> Response:
    """Charge status."""
    return answer_visit(assessment.judge_charge, PART_SIZES)


@BLUEPRINT.post("/v1/air")
@query_parameters(SIZE)
def post_air() -> Response:
    """Air side: states, split, airflow, capacity."""
    return answer_visit(assessment.judge_air, PART_SIZES)


@BLUEPRINT.post("/v1/compressor")
@query_parameters(SIZE)
def post_compressor() -> Response:
    """Is the pump working."""
    return answer_visit(assessment.judge_compressor, PART_SIZES)


@BLUEPRINT.post("/v1/expected")
@query_parameters(SIZE)
def post_expected() -> Response:
    """What a sound unit would read here and now."""
    return answer_visit(assessment.judge_expected, PART_SIZES)


@BLUEPRINT.post("/v1/assessment")
@query_parameters(SIZE)
@produces("application/json", HTML)
def post_assessment() -> Response:
    """The whole visit; as a page to print where the caller prefers text/html."""
    as_page, spoken = representation("application/json", HTML) == HTML, language()
    size, document = asked_size(SIZES), read_document()
    if as_page:
        return _note(document, spoken)
    assessed = assess_one(document, learnt_shares())
    observe.judged(assessed.answer.findings)
    return respond(assessed.document(spoken, size), language=spoken)


@BLUEPRINT.post("/v1/note")
@produces(HTML)
def post_note() -> Response:
    """The whole visit as a page to print."""
    return _note(read_document(), language())


def _note(document: dict[str, Any], spoken: str) -> Response:
    load_visit(document)
    return answer_drawn("note", document, spoken, PAGE)


@BLUEPRINT.post("/v1/customer-page")
@produces(HTML)
def post_customer_page() -> Response:
    """What the customer is told, as a page of its own."""
    spoken = language()
    assessed = assess_one(read_document(), learnt_shares())
    observe.judged(assessed.answer.findings)
    page, policy = customers_page(assessed, spoken)
    response = send(page, PAGE, language=spoken)
    response.headers["Content-Security-Policy"] = policy
    return response
