"""A flammable charge against the room it could leak into."""

from typing import Final

from service.knowledge.limits import Limit, limit, limit_table
from service.knowledge.refrigerant import Refrigerant
from service.physics.room_charge import most_charge
from service.results.finding import Bounds, Finding, Missing, State
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.quantity import Quantity
from service.results.record import replace
from service.results.units import STANDARD_ATMOSPHERE
from service.verdicts.judge import above
from service.verdicts.report import report

RoomVerdict = tuple[tuple[Finding, ...], tuple[Missing, ...], Quantity | None]
NOTHING: RoomVerdict = ((), (), None)
CODE = "weighed-charge.room"
RELEASE: Final = "procedures.room-release"
BY_AREA: Final = "procedures.room-charge-volume"
BY_ANY_MEANS: Final = "procedures.room-charge-volume-mitigated"


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
    most = None if height is None else _most(request, lower_limit, height, area)
    if total is None:
        evidence = ("/equipment/refrigerant", "/equipment/room_area")
        return (report(CODE, State.UNDECIDED, evidence),), missing, _maybe_mass(most)
    judged = _against_room(request, lower_limit, total, area)
    if judged.variant == "mitigated":
        missing = (*missing, Missing("/published_room_charge", "missing.weighed-charge-published-room"))
    return (judged,), missing, _maybe_mass(most)


def _small_charge(refrigerant: Refrigerant) -> Limit:
    """Below so many cubic metres times the flammability limit the standard asks for no room."""
    if refrigerant.safety_class.endswith("2L"):
        return limit("procedures.small-charge-volume")
    return limit("procedures.small-charge-volume-highly-flammable")


def _lowest() -> Limit:
    """The least height of release that the rule counts."""
    return limit_table(RELEASE)["floor"]


def _highest() -> float:
    """The greatest height of release that the rule counts [m]."""
    return limit_table(RELEASE)["ceiling"].value


def _release_height(request: WeighedChargeRequest) -> float | None:
    """Height of release [m] as the rule counts it: stated, or the mounting's, within its lowest and highest."""
    if request.release_height is not None:
        stated = request.release_height
    elif request.mounting is not None:
        stated = limit_table(RELEASE)[request.mounting].value
    else:
        return None
    ceiling = _highest() if request.room_height is None else request.room_height
    return max(min(stated, ceiling, _highest()), _lowest().value)


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


def _most(request: WeighedChargeRequest, lower_limit: float, height: float, area: float) -> float:
    """Most charge [kg] by floor area, which the clause never lets above a number of cubic metres of the limit.

    The limit [kg/m3] is that of air at sea level; in thinner air less refrigerant by mass makes the same mixture.
    """
    at_site = lower_limit * _thinner(request)
    return min(most_charge(at_site, height, area), limit(BY_AREA).value * at_site)


def _thinner(request: WeighedChargeRequest) -> float:
    """Air pressure of the site over the standard atmosphere, 1 at the most."""
    return min(request.site_pressure / STANDARD_ATMOSPHERE, 1.0)


def _against_room(request: WeighedChargeRequest, lower_limit: float, total: float, area: float) -> Finding:
    """Never a pass while the height of release or the mitigation has not been told."""
    height = _release_height(request)
    counted = _lowest().value if height is None else height
    by_area = _lowest().bounds(high=_most(request, lower_limit, counted, area), kind="mass")
    if _thinner(request) < 1.0:
        by_area = replace(by_area, source=f"{by_area.source}; flammability limit by the air pressure of the site")
    by_any_means = limit(BY_ANY_MEANS).bounds(high=limit(BY_ANY_MEANS).value * lower_limit, kind="mass")
    by_maker = Bounds("mass", "request", "manufacturer's table", high=request.published_room_charge)
    if above(total, by_any_means.high or 0.0):
        state, variant = State.REVIEW, "cap"
    else:
        state, variant = _state(request, above(total, by_area.high or 0.0), total)
    bound = {"cap": by_any_means, "published": by_maker, "above-published": by_maker}.get(variant, by_area)
    given = ("mounting", "release_height", "leak_mitigation", "published_room_charge")
    said = tuple(f"/{name}" for name in given if getattr(request, name) is not None)
    return report(
        CODE,
        state,
        ("/equipment/refrigerant", "/equipment/room_area", *said),
        measured=_mass(total),
        limit=bound,
        values={"height": Quantity(counted, "length"), "area": Quantity(area, "area")},
        variant=variant,
    )


def _state(request: WeighedChargeRequest, too_much: bool, total: float) -> tuple[State, str]:
    """By the clause; beyond it only the maker's table for a unit that does something about a leak."""
    if _release_height(request) is None:
        return State.UNDECIDED, "height-unknown"
    if request.leak_mitigation is None:
        return State.UNDECIDED, "mitigation-unknown"
    if not too_much:
        return State.PASS, ""
    if request.leak_mitigation == "none":
        return State.REVIEW, ""
    return _by_table(request.published_room_charge, total)


def _by_table(published: float | None, total: float) -> tuple[State, str]:
    """By the most [kg] that the maker's table allows."""
    if published is None:
        return State.REVIEW, "mitigated"
    return (State.REVIEW, "above-published") if above(total, published) else (State.PASS, "published")


def _mass(value: float) -> Quantity:
    return Quantity(value, "mass")


def _maybe_mass(value: float | None) -> Quantity | None:
    return None if value is None else _mass(value)
