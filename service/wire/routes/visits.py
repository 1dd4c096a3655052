"""POST /v1/electrical, charge, air, compressor, assessment, note, customer-page: one visit, many questions."""

from collections.abc import Callable
from typing import Any

from flask import Blueprint, Response

from service.library import Assessed, assess_one, load_visit
from service.reasoning import assessment
from service.results.answer import Answer
from service.results.computed import Computed
from service.results.expected import ExpectedComputed
from service.results.visit import Visit
from service.schemas.answer_shape import answer_of
from service.schemas.batch_shapes import AssessmentAnswer
from service.wire import observe
from service.wire.described import Example, Parameter, View, described
from service.wire.drawn import answer_drawn
from service.wire.gate import produces, query_parameters
from service.wire.job_note import HTML, customers_page
from service.wire.learnt import learnt_shares
from service.wire.reading import language, read_document, representation
from service.wire.responding import respond, send
from service.wire.sizes import PART_SIZES, SIZE_OF_PART, SIZE_OF_WHOLE, asked_size
from service.wire.visiting import read_visit

BLUEPRINT = Blueprint("visits", __name__)
PAGE = f"{HTML}; charset=utf-8"
VisitAnswer = answer_of("VisitAnswer", Computed, sizes=PART_SIZES)
ExpectedAnswer = answer_of("ExpectedAnswer", ExpectedComputed, sizes=PART_SIZES)


def _visit(name: str, said: str) -> Example:
    return Example(name, said, f"visits/{name}.json")


GROUNDED = _visit("grounded-winding", "A winding to ground")
HOT_SHELL = _visit("hot-shell", "An open winding on a hot shell")
WEAK_CAPACITOR = _visit("weak-capacitor", "A weak run capacitor")
LOW_VALVE = _visit("low-charge-valve", "Short of refrigerant, expansion valve")
LOW_ORIFICE = _visit("low-charge-orifice", "Short of refrigerant, fixed orifice")
DIRTY_COIL = _visit("dirty-outdoor-coil", "A dirty outdoor coil")
SOUND = _visit("sound-unit", "A sound unit")


def about_visit(operation_id: str, *examples: Example, answer: type | None = None) -> Callable[[View], View]:
    """Describe a view that is asked with a visit document."""
    return described(operation_id, "Visits", request=Visit, answer=answer, examples=examples)


def answer_visit(judge: Callable[[Visit], Answer], size_of: Parameter) -> Response:
    """Judge the posted visit and say it. Raises: Refusal for impossible readings (the contract's closed list)."""
    spoken, size = language(), asked_size(size_of)
    visit = read_visit()
    assessed = Assessed(visit, judge(visit))
    observe.judged(assessed.answer.findings)
    return respond(assessed.document(spoken, size), language=spoken)


@BLUEPRINT.post("/v1/assessment")
@about_visit("assessVisit", GROUNDED, LOW_VALVE, answer=AssessmentAnswer)
@query_parameters(SIZE_OF_WHOLE)
@produces("application/json", HTML)
def post_assessment() -> Response:
    """Assess a visit.

    Every check that the readings allow, holds ahead of everything, causes, the next reading, ordered next steps
    and the outcome. A partial visit is never an error; readings that contradict are a finding. With `Accept:
    text/html` the answer is the printable job note, chart included.
    """
    as_page, spoken = representation("application/json", HTML) == HTML, language()
    size, document = asked_size(SIZE_OF_WHOLE), read_document()
    if as_page:
        return _note(document, spoken)
    assessed = assess_one(document, learnt_shares())
    observe.judged(assessed.answer.findings)
    return respond(assessed.document(spoken, size), language=spoken)


@BLUEPRINT.post("/v1/electrical")
@about_visit("judgeElectrical", WEAK_CAPACITOR, HOT_SHELL, answer=VisitAnswer)
@query_parameters(SIZE_OF_PART)
def post_electrical() -> Response:
    """Electrical verdicts.

    Isolation, windings, insulation, capacitors, contactor, supply, control, currents, protection. Ohm and
    insulation readings get no verdict until the power is verified off.
    """
    return answer_visit(assessment.judge_electrical, SIZE_OF_PART)


@BLUEPRINT.post("/v1/charge")
@about_visit("judgeCharge", LOW_VALVE, LOW_ORIFICE, answer=VisitAnswer)
@query_parameters(SIZE_OF_PART)
def post_charge() -> Response:
    """Charge status.

    Saturation, superheat, subcooling and their targets; the status follows the published installer tolerances, and
    only where nothing else in the readings contradicts it.
    """
    return answer_visit(assessment.judge_charge, SIZE_OF_PART)


@BLUEPRINT.post("/v1/air")
@about_visit("judgeAir", LOW_VALVE, SOUND, answer=VisitAnswer)
@query_parameters(SIZE_OF_PART)
def post_air() -> Response:
    """Air side.

    States of the air, temperature split and its target, airflow, capacity, static pressure.
    """
    return answer_visit(assessment.judge_air, SIZE_OF_PART)


@BLUEPRINT.post("/v1/compressor")
@about_visit("judgeCompressor", DIRTY_COIL, SOUND, answer=VisitAnswer)
@query_parameters(SIZE_OF_PART)
def post_compressor() -> Response:
    """Compressor pumping check.

    Compression ratio, discharge superheat, amps and flow by the rating coefficients, efficiencies.
    """
    return answer_visit(assessment.judge_compressor, SIZE_OF_PART)


@BLUEPRINT.post("/v1/expected")
@about_visit("expectReadings", LOW_VALVE, SOUND, answer=ExpectedAnswer)
@query_parameters(SIZE_OF_PART)
def post_expected() -> Response:
    """Expected readings for this unit today.

    Each expected reading with a 90% range, for the weather and the unit of the document.
    """
    return answer_visit(assessment.judge_expected, SIZE_OF_PART)


@BLUEPRINT.post("/v1/note")
@about_visit("writeNote", LOW_VALVE, GROUNDED)
@produces(HTML)
def post_note() -> Response:
    """Job note.

    The whole visit as a page to read on a phone or to print, chart included.
    """
    return _note(read_document(), language())


def _note(document: dict[str, Any], spoken: str) -> Response:
    load_visit(document)
    return answer_drawn("note", document, spoken, PAGE)


@BLUEPRINT.post("/v1/customer-page")
@about_visit("writeCustomerPage", LOW_VALVE, GROUNDED)
@produces(HTML)
def post_customer_page() -> Response:
    """Customer's page.

    What the customer is told, as a page of its own: whether it may run, what was found, what happens next.
    """
    spoken = language()
    assessed = assess_one(read_document(), learnt_shares())
    observe.judged(assessed.answer.findings)
    page, policy = customers_page(assessed, spoken)
    response = send(page, PAGE, language=spoken)
    response.headers["Content-Security-Policy"] = policy
    return response
