"""The table of operations, third part: repair procedures."""

from __future__ import annotations

from service.results.procedures.evacuation import EvacuationComputed, EvacuationRequest
from service.results.procedures.leak_rate import LeakRateComputed, LeakRateRequest
from service.results.procedures.pressure_test import PressureTestComputed, PressureTestRequest
from service.results.procedures.recovery import RecoveryComputed, RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeComputed, WeighedChargeRequest
from service.schemas.answer_shape import answer_of
from service.workshop.specification.operation import Example, Operation, posted


def _procedure(
    name: str,
    operation_id: str,
    summary: str,
    description: str,
    request: type,
    computed: type,
    examples: tuple[tuple[str, str], ...],
) -> Operation:
    answer = answer_of(request.__name__.replace("Request", "Answer"), computed)
    return posted(
        f"/v1/procedures/{name}",
        operation_id,
        "Procedures",
        summary,
        description,
        request=request,
        answer=answer,
        examples=tuple(Example(shown, said, f"procedures/{name}-{shown}.json") for shown, said in examples),
    )


PROCEDURES: tuple[Operation, ...] = (
    _procedure(
        "pressure-test",
        "judgePressureTest",
        "Pressure test: does it hold nitrogen",
        "Pressure change with the temperature taken out, its uncertainty, and how much longer the test must run "
        "before these instruments can decide.",
        PressureTestRequest,
        PressureTestComputed,
        (("holds", "Tight overnight"), ("leaks", "A leak")),
    ),
    _procedure(
        "evacuation",
        "judgeEvacuation",
        "Evacuation: dry and tight",
        "The shape of the rise after the pump is valved off tells a leak from moisture.",
        EvacuationRequest,
        EvacuationComputed,
        (("tight", "The vacuum holds"), ("moisture", "A rise to a plateau")),
    ),
    _procedure(
        "weighed-charge",
        "weighCharge",
        "Weighed charge: how much goes in",
        "Factory charge with the line set that was really installed, by tube volume and density.",
        WeighedChargeRequest,
        WeighedChargeComputed,
        (
            ("long-line", "A line set longer than included"),
            ("flammable", "A mildly flammable refrigerant in a room"),
        ),
    ),
    _procedure(
        "recovery",
        "planRecovery",
        "Recovery: into which cylinder",
        "Room left in the cylinder, cylinders needed, and the level that the rule asks for.",
        RecoveryRequest,
        RecoveryComputed,
        (("room", "A cylinder with room"), ("mixed", "A cylinder that holds something else")),
    ),
    _procedure(
        "leak-rate",
        "judgeLeakRate",
        "Leak rate: does a duty to repair arise",
        "Leak rate by the rule that applies to refrigerant, appliance and date, or that none does.",
        LeakRateRequest,
        LeakRateComputed,
        (("comfort-cooling", "A large comfort cooling appliance"), ("none", "A small residential unit")),
    ),
)
