"""POST /v1/intake: before anybody is sent."""

from flask import Blueprint, Response

from service.reasoning.assessment import take_in
from service.schemas.sizes import SIZES
from service.wire.gate import query_parameters
from service.wire.routes.visits import answer_visit
from service.wire.sizes import SIZE

BLUEPRINT = Blueprint("intake", __name__)


@BLUEPRINT.post("/v1/intake")
@query_parameters(SIZE)
def post_intake() -> Response:
    """Hazards, likely causes, urgency, questions, what to load, certificates and planned minutes."""
    return answer_visit(take_in, SIZES)
