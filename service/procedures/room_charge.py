"""A flammable charge against the room it could leak into."""

from service.knowledge.limits import Limit, limit
from service.knowledge.refrigerant import Refrigerant
from service.physics.room_charge import most_charge
from service.results.finding import Finding, Missing, State
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.quantity import Quantity
from service.verdicts.judge import above
from service.verdicts.report import report

RoomVerdict = tuple[tuple[Finding, ...], tuple[Missing, ...], Quantity | None]
NOTHING: RoomVerdict = ((), (), None)
CODE = "weighed-charge.room"
LOWEST, HIGHEST = "procedures.room-release-floor", "procedures.room-release-ceiling"


def room_verdict(request: WeighedChargeRequest, refrigerant: Refrigerant, total: float | None) -> RoomVerdict:
    """Finding, missing, and the most that the room takes where the height of release is known."""
    lower_limit = refrigerant.row.room_rule_limit
    if lower_limit is None:
        return NOTHING
    small = _small_charge(refrigerant)
    if total is not None and not above(total, small.value * lower_limit):
        bound = small.bounds(high=small.value * lower_limit, kind="mass")
        named = ("/equipment/refrigerant",)
        passed = report(CODE, State.PASS, named, measured=_mass(total), limit=bound, variant="small")
        return (passed,), (), None
    missing = _missing(request)
    area, height = request.equipment.room_area, _release_height(request)
    if area is None:
        return (report(CODE, State.UNDECIDED, ("/equipment/refrigerant",)),), missing, None
    most = None if height is None else most_charge(lower_limit, height, area)
    if total is None:
        evidence = ("/equipment/refrigerant", "/equipment/room_area")
        return (report(CODE, State.UNDECIDED, evidence),), missing, _maybe_mass(most)
    return (_against_room(request, lower_limit, total, area),), missing, _maybe_mass(most)


def _small_charge(refrigerant: Refrigerant) -> Limit:
    """Below so many cubic metres times the flammability limit the standard asks for no room."""
    if refrigerant.safety_class.endswith("2L"):
        return limit("procedures.small-charge-volume")
    return limit("procedures.small-charge-volume-highly-flammable")


def _release_height(request: WeighedChargeRequest) -> float | None:
    """Height of release [m] as the rule counts it: stated, or the mounting's, within its lowest and highest."""
    if request.release_height is not None:
        stated = request.release_height
    elif request.mounting is not None:
        stated = limit(f"procedures.room-release-{request.mounting}").value
    else:
        return None
    ceiling = limit(HIGHEST).value if request.room_height is None else request.room_height
    return max(min(stated, ceiling, limit(HIGHEST).value), limit(LOWEST).value)


def _missing(request: WeighedChargeRequest) -> tuple[Missing, ...]:
    """What the rule turns on and nobody has said."""
    return tuple(
        Missing(pointer, text)
        for pointer, text, absent in (
            (
                "/equipment/room_area",
                "missing.weighed-charge-room",
                request.equipment.room_area is None,
            ),
            ("/mounting", "missing.weighed-charge-mounting", _release_height(request) is None),
            ("/leak_mitigation", "missing.weighed-charge-mitigation", request.leak_mitigation is None),
        )
        if absent
    )


def _against_room(request: WeighedChargeRequest, lower_limit: float, total: float, area: float) -> Finding:
    """Never a pass while the height of release or the mitigation has not been told."""
    height = _release_height(request)
    counted = limit(LOWEST).value if height is None else height
    most = most_charge(lower_limit, counted, area)
    state, variant = _state(request, above(total, most))
    given = (
        ("/mounting", request.mounting),
        ("/release_height", request.release_height),
        ("/leak_mitigation", request.leak_mitigation),
    )
    said = tuple(pointer for pointer, value in given if value is not None)
    return report(
        CODE,
        state,
        ("/equipment/refrigerant", "/equipment/room_area", *said),
        measured=_mass(total),
        limit=limit("procedures.room-release-floor").bounds(high=most, kind="mass"),
        values={"height": Quantity(counted, "length"), "area": Quantity(area, "area")},
        variant=variant,
    )


def _state(request: WeighedChargeRequest, too_much: bool) -> tuple[State, str]:
    if _release_height(request) is None:
        return State.REVIEW, "height-unknown"
    if request.leak_mitigation is None:
        return State.REVIEW, "mitigation-unknown"
    if not too_much:
        return State.PASS, ""
    return State.REVIEW, "" if request.leak_mitigation == "none" else "mitigated"


def _mass(value: float) -> Quantity:
    return Quantity(value, "mass")


def _maybe_mass(value: float | None) -> Quantity | None:
    return None if value is None else _mass(value)
