"""A flammable charge against the room it could leak into."""

from service.knowledge.limits import Limit, limit
from service.knowledge.refrigerant import Refrigerant
from service.results.finding import Assumption, Finding, Missing, State, Value
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.quantity import Quantity
from service.verdicts.judge import above
from service.verdicts.report import report

RoomVerdict = tuple[tuple[Finding, ...], tuple[Missing, ...], tuple[Assumption, ...], Quantity | None]
NOTHING: RoomVerdict = ((), (), (), None)


def room_verdict(request: WeighedChargeRequest, refrigerant: Refrigerant, total: float | None) -> RoomVerdict:
    """Finding, missing, assumptions and the mass that fills the room to a quarter of the flammability limit."""
    lower_limit = refrigerant.lower_flammability_limit
    if lower_limit is None:
        return NOTHING
    evidence = ("/equipment/refrigerant",)
    small = _small_charge(refrigerant)
    if total is not None and not above(total, small.value * lower_limit):
        bound = small.bounds(high=small.value * lower_limit, kind="mass")
        finding = report(
            "weighed-charge.room", State.PASS, evidence, measured=_mass(total), limit=bound, variant="small"
        )
        return (finding,), (), (), None
    area = request.equipment.room_area
    if total is None or area is None:
        finding = report("weighed-charge.room", State.UNDECIDED, evidence)
        missing = (Missing("/equipment/room_area", "missing.weighed-charge-room"),) if area is None else ()
        return (finding,), missing, (), None
    return _against_room(request, lower_limit, total, area)


def _small_charge(refrigerant: Refrigerant) -> Limit:
    """Below so many cubic metres times the flammability limit the standard asks for no room."""
    if refrigerant.safety_class.endswith("2L"):
        return limit("procedures.small-charge-volume")
    return limit("procedures.small-charge-volume-highly-flammable")


def _against_room(request: WeighedChargeRequest, lower_limit: float, total: float, area: float) -> RoomVerdict:
    height, share = request.room_height, limit("procedures.flammable-share-percent")
    assumptions: tuple[Assumption, ...] = ()
    if height is None:
        height = limit("procedures.room-height").value
        used: dict[str, Value] = {"height": Quantity(height, "length")}
        assumptions = (Assumption("assumption.weighed-charge-room-height", "/room_height", used),)
    quarter = share.value / 100.0 * lower_limit * area * height
    finding = report(
        "weighed-charge.room",
        State.REVIEW if above(total, quarter) else State.PASS,
        ("/equipment/refrigerant", "/equipment/room_area"),
        measured=_mass(total),
        limit=share.bounds(high=quarter, kind="mass"),
    )
    return (finding,), (), assumptions, _mass(quarter)


def _mass(value: float) -> Quantity:
    return Quantity(value, "mass")
