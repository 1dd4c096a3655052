"""POST /v1/intake: before anybody is sent."""

from flask import Blueprint, Response

from service.reasoning.assessment import take_in
from service.wire.reading import language
from service.wire.responding import respond
from service.wire.routes.visits import answer_visit
from service.wire.visiting import read_visit

BLUEPRINT = Blueprint("intake", __name__)


@BLUEPRINT.post("/v1/intake")
def post_intake() -> Response:
    """Hazards, likely causes, urgency, questions, what to load, certificates and planned minutes."""
    spoken = language()
    return respond(answer_visit(read_visit(), take_in, spoken), language=spoken)
