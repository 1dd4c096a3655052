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
from service.results.procedures.evacuation import EvacuationComputed, EvacuationRequest
from service.results.procedures.leak_rate import LeakRateComputed, LeakRateRequest
from service.results.procedures.pressure_test import PressureTestComputed, PressureTestRequest
from service.results.procedures.recovery import RecoveryComputed, RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeComputed, WeighedChargeRequest
from service.schemas.answer_shape import answer_of
from service.schemas.documents import load
from service.schemas.dump import dump
from service.verdicts.report import Checked
from service.wire import observe
from service.wire.described import Example, View, described
from service.wire.reading import language, read_document
from service.wire.responding import respond
from service.words.say import Speaker

BLUEPRINT = Blueprint("procedures", __name__)


def _procedure(operation_id: str, request: type, computed: type, **examples: str) -> Callable[[View], View]:
    """Describe a procedure; examples: what each shows, by its name in samples/procedures after the procedure's."""
    answer_name = request.__name__.replace("Request", "Answer")

    def mark(view: View) -> View:
        stem = view.__name__.removeprefix("post_").replace("_", "-")
        shown = (
            Example(name.replace("_", "-"), said, f"procedures/{stem}-{name.replace('_', '-')}.json")
            for name, said in examples.items()
        )
        described(
            operation_id,
            "Procedures",
            request=request,
            answer=answer_of(answer_name, computed),
            examples=tuple(shown),
        )(view)
        return view

    return mark


def _respond(request: type, judge: Callable[[Any], Checked]) -> Response:
    spoken = language()
    document: Any = load(request, read_document())
    answer = conclude_procedure(document, judge(document))
    observe.judged(answer.findings)
    speaker = Speaker(document.units, document.site_pressure, spoken)
    return respond(dump(answer, speaker, provenance(), document.reference), language=spoken)


@BLUEPRINT.post("/v1/procedures/pressure-test")
@_procedure(
    "judgePressureTest", PressureTestRequest, PressureTestComputed, holds="Tight overnight", leaks="A leak"
)
def post_pressure_test() -> Response:
    """Pressure test: does it hold nitrogen.

    Pressure change with the temperature taken out, its uncertainty, and how much longer the test must run before
    these instruments can decide.
    """
    return _respond(PressureTestRequest, pressure_test)


@BLUEPRINT.post("/v1/procedures/evacuation")
@_procedure(
    "judgeEvacuation",
    EvacuationRequest,
    EvacuationComputed,
    tight="The vacuum holds",
    moisture="A rise to a plateau",
)
def post_evacuation() -> Response:
    """Evacuation: dry and tight.

    The shape of the rise after the pump is valved off tells a leak from moisture.
    """
    return _respond(EvacuationRequest, evacuation)


@BLUEPRINT.post("/v1/procedures/weighed-charge")
@_procedure(
    "weighCharge",
    WeighedChargeRequest,
    WeighedChargeComputed,
    long_line="A line set longer than included",
    flammable="A mildly flammable refrigerant in a room",
)
def post_weighed_charge() -> Response:
    """Weigh-in charge calculation.

    Factory charge with the line set that was really installed, by tube volume and density.
    """
    return _respond(WeighedChargeRequest, weighed_charge)


@BLUEPRINT.post("/v1/procedures/recovery")
@_procedure(
    "planRecovery",
    RecoveryRequest,
    RecoveryComputed,
    room="A cylinder with room",
    mixed="A cylinder that holds something else",
)
def post_recovery() -> Response:
    """Recovery cylinder check.

    Room left in the cylinder, cylinders needed, and the level that the rule asks for.
    """
    return _respond(RecoveryRequest, recovery)


@BLUEPRINT.post("/v1/procedures/leak-rate")
@_procedure(
    "judgeLeakRate",
    LeakRateRequest,
    LeakRateComputed,
    comfort_cooling="A large comfort cooling appliance",
    none="A small residential unit",
)
def post_leak_rate() -> Response:
    """Leak rate and repair requirement.

    Leak rate by the rule that applies to refrigerant, appliance and date, or that none does.
    """
    return _respond(LeakRateRequest, leak_rate)
