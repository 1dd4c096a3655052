"""POST /v1/chart: the pressure-enthalpy chart of a visit."""

from flask import Blueprint, Response

from service.library import load_visit
from service.wire.drawn import answer_drawn
from service.wire.gate import produces
from service.wire.job_note import SVG
from service.wire.reading import language, read_document

BLUEPRINT = Blueprint("chart", __name__)


@BLUEPRINT.post("/v1/chart")
@produces(SVG)
def post_chart() -> Response:
    """The chart as SVG; it draws what the readings give and says in words what they do not."""
    document = read_document()
    load_visit(document)
    return answer_drawn("chart", document, language(), SVG)
