"""POST /v1/intake: before anybody is sent."""

from flask import Blueprint, Response

from service.reasoning.assessment import take_in
from service.results.visit import Visit
from service.schemas.documents import load
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.wire.routes.visits import answer_visit

BLUEPRINT = Blueprint("intake", __name__)


@BLUEPRINT.post("/v1/intake")
def post_intake() -> Response:
    """Hazards, likely causes, urgency, questions, what to load, certificates and planned minutes."""
    spoken = language()
    return respond(answer_visit(load(Visit, read_document()), take_in, spoken), language=spoken)
