"""Into which cylinder, and how far down?"""

from collections.abc import Iterable

from service.knowledge.limits import Limit, limit
from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import book
from service.physics.cylinder import WATER_DENSITY, cylinders_needed, liquid_limit
from service.procedures.cylinder import (
    judge_contents,
    judge_flammable,
    judge_service_pressure,
    judge_test_date,
    judge_weights,
)
from service.procedures.evacuation_levels import DrawDown, draw_down, full_charge
from service.procedures.rests_on import rests_on
from service.results.finding import Finding, Missing, State
from service.results.out_of_range import OutOfRange
from service.results.procedures.recovery import RecoveryComputed, RecoveryRequest
from service.results.quantity import Quantity
from service.results.visit.dates import day_of
from service.verdicts.judge import above
from service.verdicts.refrigerant_refusals import known_refrigerant
from service.verdicts.report import Checked, report

ROOM = "recovery.cylinder-room"


def recovery(request: RecoveryRequest) -> Checked:
    """Judge a recovery before it begins.

    Raises: Refusal for an unknown refrigerant.
    """
    refrigerant = _refrigerant(request)
    most = _liquid_limit(request, refrigerant)
    down = draw_down(request, refrigerant)
    said = [
        *_room(request, refrigerant, most),
        *judge_contents(request, refrigerant),
        *judge_test_date(request),
        *judge_service_pressure(request, refrigerant),
        *judge_flammable(request, refrigerant),
        *judge_weights(request),
        *_hot(request, refrigerant),
    ]
    judged = [item for item in said if isinstance(item, Finding)]
    cylinder = _cylinder(judged)
    findings = (cylinder, *judged, down.finding, *_disposal(request))
    missing = (*(item for item in said if isinstance(item, Missing)), *down.missing)
    return Checked(findings, missing, (), _computed(request, refrigerant, most, down, cylinder))


def _disposal(request: RecoveryRequest) -> Iterable[Finding]:
    """What the rules of the place want written down of an appliance of this size."""
    charge, pointer = full_charge(request)
    if not request.disposal or charge is None:
        return
    for rule in book().place(request.site.jurisdiction).rules("disposal_record", day_of(request.visit_date)):
        if rule.applies_when.charge(charge):
            values = {"rule_said": rule.code, "rule": rule.title}
            yield report("recovery.disposal-record", State.REVIEW, ("/disposal", pointer), values=values)


def _cylinder(judged: list[Finding]) -> Finding:
    """Whether to recover into this cylinder: only when nothing speaks against it and all is known."""
    states = [finding.state for finding in judged]
    evidence = tuple(dict.fromkeys(pointer for finding in judged for pointer in finding.evidence))
    if State.FAIL in states:
        return report("recovery.cylinder", State.FAIL, evidence)
    doubtful = any(finding.code == "recovery.weights" for finding in judged) or State.UNDECIDED in states
    return report("recovery.cylinder", State.UNDECIDED if doubtful else State.PASS, evidence)


def _refrigerant(request: RecoveryRequest) -> Refrigerant | None:
    """The refrigerant to be recovered, named at the top or with the equipment."""
    if request.refrigerant is not None:
        return known_refrigerant(request.refrigerant, "/refrigerant")
    if request.equipment.refrigerant is not None:
        return known_refrigerant(request.equipment.refrigerant, "/equipment/refrigerant")
    return None


def _liquid_limit(request: RecoveryRequest, refrigerant: Refrigerant | None) -> float | None:
    if refrigerant is None or request.water_capacity is None:
        return None
    density = refrigerant.properties.saturated.liquid_density(_reference_temperature())
    return liquid_limit(request.water_capacity, density, _filling(refrigerant).value / 100.0)


def _filling(refrigerant: Refrigerant | None) -> Limit:
    """The guideline of the trade is written for refrigerants that do not burn."""
    burns = refrigerant is not None and refrigerant.lower_flammability_limit is not None
    return limit(
        "procedures.cylinder-filling-percent-flammable" if burns else "procedures.cylinder-filling-percent"
    )


def _reference_temperature() -> float:
    return limit("procedures.cylinder-reference-temperature").value


def _room_left(request: RecoveryRequest, most: float | None) -> float | None:
    if most is None or request.gross is None or request.tare is None:
        return None
    return most - max(request.gross - request.tare, 0.0)


def _expected(request: RecoveryRequest) -> float | None:
    return full_charge(request)[0] if request.expected_charge is None else request.expected_charge


def _room(
    request: RecoveryRequest, refrigerant: Refrigerant | None, most: float | None
) -> Iterable[Finding | Missing]:
    """Whether the cylinder takes the charge, or is over its limit already."""
    room, expected = _room_left(request, most), _expected(request)
    if room is None or most is None:
        yield report(ROOM, State.UNDECIDED, ())
        yield from _missing_for_room(request, refrigerant)
        return
    state, variant = State.PASS, ""
    if expected is None:
        state, variant = State.UNDECIDED, "charge-unknown"
        yield Missing("/expected_charge", "missing.recovery-expected-charge")
    elif above(expected, room):
        state, variant = State.REVIEW, "not-enough"
    if above(most - room, most):
        state, variant = State.FAIL, "overfilled"
    yield report(
        ROOM,
        state,
        ("/water_capacity", "/tare", "/gross"),
        measured=Quantity(most - room, "mass"),
        limit=_filling(refrigerant).bounds(high=most, kind="mass"),
        values={
            "room": Quantity(max(room, 0.0), "mass"),
            "stop": Quantity((request.tare or 0.0) + most, "mass"),
            "reference": Quantity(_reference_temperature(), "temperature"),
        },
        variant=variant,
    )


def _missing_for_room(request: RecoveryRequest, refrigerant: Refrigerant | None) -> Iterable[Missing]:
    if refrigerant is None:
        yield Missing("/refrigerant", "missing.recovery-refrigerant")
    for name in ("water_capacity", "tare", "gross"):
        if getattr(request, name) is None:
            yield Missing(f"/{name}", "missing.recovery-cylinder-weights")


def _hot(request: RecoveryRequest, refrigerant: Refrigerant | None) -> Iterable[Finding]:
    """Whether what the cylinder holds now would fill it with liquid where it stands."""
    ambient = request.ambient_temperature
    if refrigerant is None or request.water_capacity is None or ambient is None:
        return
    if request.gross is None or request.tare is None:
        return
    try:
        density = refrigerant.properties.saturated.liquid_density(ambient)
    except OutOfRange:
        return
    share = (request.gross - request.tare) / density / (request.water_capacity / WATER_DENSITY)
    full = above(share, 1.0)
    yield report(
        "recovery.hot-cylinder",
        State.FAIL if full else State.PASS,
        ("/ambient_temperature", "/water_capacity", "/tare", "/gross"),
        measured=Quantity(max(share, 0.0) * 100.0, "percent"),
    )


def _computed(
    request: RecoveryRequest,
    refrigerant: Refrigerant | None,
    most: float | None,
    down: DrawDown,
    cylinder: Finding,
) -> RecoveryComputed:
    room, expected = _room_left(request, most), _expected(request)
    return RecoveryComputed(
        liquid_limit=_mass(most),
        room_left=_mass(None if room is None else max(room, 0.0)),
        stop_at_gross=_mass(None if most is None or request.tare is None else request.tare + most),
        cylinders_needed=_cylinders(expected, room, most),
        required_vacuum=down.pressure,
        required_recovery_percent=down.percent,
        reference_temperature=None if most is None else Quantity(_reference_temperature(), "temperature"),
        transport=_transport(refrigerant),
        rests_on=rests_on(request, "recovery", cylinder.evidence) if cylinder.state is State.PASS else (),
    )


def _transport(refrigerant: Refrigerant | None) -> str | None:
    """As it is written on label and papers; of a class n.o.s. the refrigerant is named behind it."""
    if refrigerant is None or refrigerant.row.transport is None:
        return None
    at = refrigerant.row.transport
    named = f" ({refrigerant.designation})" if at.name.endswith("n.o.s.") else ""
    return f"UN{at.un_number}, {at.name}{named}, {at.division}"


def _mass(value: float | None) -> Quantity | None:
    return None if value is None else Quantity(value, "mass")


def _cylinders(expected: float | None, room: float | None, most: float | None) -> Quantity | None:
    if expected is None or room is None or most is None:
        return None
    return Quantity(float(cylinders_needed(expected, room, most)), "count")
