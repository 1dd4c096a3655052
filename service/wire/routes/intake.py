"""POST /v1/intake: before anybody is sent."""

from flask import Blueprint, Response

from service.reasoning.assessment import take_in
from service.results.computed import Computed
from service.schemas.answer_shape import answer_of
from service.schemas.sizes import SIZES
from service.wire.described import Example
from service.wire.gate import query_parameters
from service.wire.routes.visits import about_visit, answer_visit
from service.wire.sizes import SIZE_OF_WHOLE

BLUEPRINT = Blueprint("intake", __name__)
IntakeAnswer = answer_of("IntakeAnswer", Computed, outcome=True, intake=True, sizes=SIZES)
NO_START = Example("no-start", "It hums and does not start", "intake/no-start.json")
SMELL = Example("smell", "A smell or hiss of refrigerant", "intake/refrigerant-smell.json")


@BLUEPRINT.post("/v1/intake")
@about_visit("planDispatch", NO_START, SMELL, answer=IntakeAnswer)
@query_parameters(SIZE_OF_WHOLE)
def post_intake() -> Response:
    """Intake: before dispatch.

    Likely causes, urgency, questions worth asking, what to load, certificates and planned minutes, from complaint,
    nameplate and history.
    """
    return answer_visit(take_in, SIZE_OF_WHOLE)
