"""POST /v1/procedures/...: repair procedures that compute."""

from collections.abc import Callable
from typing import Any

from flask import Blueprint, Response

from service.library.provenance import provenance
from service.procedures.evacuation import evacuation
from service.procedures.leak_rate import leak_rate
from service.procedures.pressure_test import pressure_test
from service.procedures.recovery import recovery
from service.procedures.weighed_charge import weighed_charge
from service.reasoning.assessment import conclude_procedure
from service.results.procedures.evacuation import EvacuationRequest
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.procedures.recovery import RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.verdicts.report import Checked
from service.wire import observe
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.words.say import Speaker

BLUEPRINT = Blueprint("procedures", __name__)


def _respond(request: type, judge: Callable[[Any], Checked]) -> Response:
    spoken = language()
    document: Any = load(request, read_document())
    answer = conclude_procedure(document, judge(document))
    observe.judged(answer.findings)
    speaker = Speaker(document.units, document.site_pressure, spoken)
    return respond(dump(answer, speaker, provenance(), document.reference), language=spoken)


@BLUEPRINT.post("/v1/procedures/pressure-test")
def post_pressure_test() -> Response:
    """Does it hold nitrogen."""
    return _respond(PressureTestRequest, pressure_test)


@BLUEPRINT.post("/v1/procedures/evacuation")
def post_evacuation() -> Response:
    """Dry and tight."""
    return _respond(EvacuationRequest, evacuation)


@BLUEPRINT.post("/v1/procedures/weighed-charge")
def post_weighed_charge() -> Response:
    """How much goes in."""
    return _respond(WeighedChargeRequest, weighed_charge)


@BLUEPRINT.post("/v1/procedures/recovery")
def post_recovery() -> Response:
    """Into which cylinder."""
    return _respond(RecoveryRequest, recovery)


@BLUEPRINT.post("/v1/procedures/leak-rate")
def post_leak_rate() -> Response:
    """Does a duty arise."""
    return _respond(LeakRateRequest, leak_rate)
