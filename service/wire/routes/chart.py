"""POST /v1/chart: the pressure-enthalpy chart of a visit."""

from flask import Blueprint, Response

from service.library import load_visit
from service.wire.drawn import answer_drawn
from service.wire.gate import produces
from service.wire.job_note import SVG
from service.wire.reading import language, read_document
from service.wire.routes.visits import DIRTY_COIL, LOW_VALVE, about_visit

BLUEPRINT = Blueprint("chart", __name__)


@BLUEPRINT.post("/v1/chart")
@about_visit("drawChart", LOW_VALVE, DIRTY_COIL)
@produces(SVG)
def post_chart() -> Response:
    """Pressure-enthalpy chart.

    The cycle of the visit in the pressure-enthalpy chart of its refrigerant; what the readings do not give is said
    in words.
    """
    document = read_document()
    load_visit(document)
    return answer_drawn("chart", document, language(), SVG)
