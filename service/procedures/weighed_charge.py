"""How much refrigerant goes in: the factory charge, the line set, and what was added to the circuit."""

from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.physics.tube_charge import product_uncertainty
from service.procedures.line_set import LineSet, line_set
from service.procedures.rests_on import rests_on
from service.procedures.room_charge import room_verdict
from service.results.finding import Finding, Missing, State
from service.results.procedures.weighed_charge import WeighedChargeComputed, WeighedChargeRequest
from service.results.quantity import Quantity
from service.results.record import Record, replace
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above
from service.verdicts.refrigerant_refusals import known_refrigerant
from service.verdicts.report import Checked, report

USED = (
    "refrigerant",
    "factory_charge",
    "included_line_length",
    "line_length",
    "liquid_line_diameter",
    "suction_line_diameter",
)


class _Amount(Record):
    """total and adjustment [kg] as far as they are known; why not where they are not."""

    total: Quantity | None
    adjustment: Quantity | None
    variant: str
    missing: tuple[Missing, ...] = ()


def weighed_charge(request: WeighedChargeRequest) -> Checked:
    """Compute the charge to weigh in.

    Raises: Refusal for an unknown refrigerant, or a temperature outside its range.
    """
    if request.equipment.refrigerant is None:
        finding = report("weighed-charge.amount", State.UNDECIDED, (), variant="no-refrigerant")
        missing = (Missing("/equipment/refrigerant", "missing.weighed-charge-refrigerant"),)
        return Checked((finding,), missing, (), WeighedChargeComputed())
    refrigerant = known_refrigerant(request.equipment.refrigerant, "/equipment/refrigerant")
    lines = line_set(request, refrigerant)
    critical = _is_critical(request, refrigerant)
    amount = _critical_amount(request) if critical else _amount(request, lines)
    other = _other_refrigerant(request, refrigerant)
    if other:
        amount = replace(amount, total=None, variant="other-refrigerant")
    total = None if amount.total is None else amount.total.value
    room, room_missing, most_in_room = room_verdict(request, refrigerant, total)
    # Nothing flammable goes into a room that has not passed: the amount is told, not the word to weigh it in.
    blocked = any(finding.state is not State.PASS for finding in room)
    if total is not None and blocked:
        amount = replace(amount, variant="room")
    findings = (
        _amount_finding(request, amount),
        *_critical(request, critical, blocked),
        _phase(refrigerant),
        *_published(request, lines),
        *other,
        *room,
    )
    weighed = findings[0]
    computed = WeighedChargeComputed(
        amount.total,
        amount.adjustment,
        _per_length(lines),
        refrigerant.charging_phase,
        most_in_room,
        rests_on(request, "weighed-charge", weighed.evidence) if weighed.state is State.PASS else (),
    )
    uses_lines = amount.adjustment is not None or amount.variant == "no-line-figures"
    assumptions = lines.assumptions if uses_lines else ()
    return Checked(findings, (*amount.missing, *room_missing), assumptions, computed)


def _is_critical(request: WeighedChargeRequest, refrigerant: Refrigerant) -> bool:
    """Without service valves, as stated or by the kind of unit; a highly flammable charge is critical anywhere."""
    sealed = kind_row(request.equipment.kind).sealed
    has_valves = request.service_valves if request.service_valves is not None else not sealed
    return not has_valves or refrigerant.safety_class.endswith("3")


def _critical_amount(request: WeighedChargeRequest) -> _Amount:
    """A sealed, critically charged unit gets its nameplate charge and nothing for lines or parts."""
    factory = request.equipment.factory_charge
    if factory is None:
        return _Amount(None, None, "no-factory-charge", (_no_factory_charge(),))
    return _Amount(Quantity(factory, "mass"), None, "")


def _no_factory_charge() -> Missing:
    return Missing("/equipment/factory_charge", "missing.weighed-charge-factory-charge")


def _amount(request: WeighedChargeRequest, lines: LineSet) -> _Amount:
    adjustment, variant, missing = _adjustment(request, lines)
    factory = request.equipment.factory_charge
    if factory is None:
        return _Amount(None, adjustment, "no-factory-charge", (_no_factory_charge(), *missing))
    if adjustment is None:
        return _Amount(None, None, variant, missing)
    extras = (request.extras.drier_volume or 0.0) * lines.liquid_density + (request.extras.coil_change or 0.0)
    total = factory + adjustment.value + extras
    if total <= 0.0:
        return _Amount(None, adjustment, "nothing-left")
    return _Amount(Quantity(total, "mass", adjustment.uncertainty), adjustment, "")


def _adjustment(request: WeighedChargeRequest, lines: LineSet) -> tuple[Quantity | None, str, tuple[Missing, ...]]:
    """The line set's share beyond the included length; the maker's own figure goes first."""
    equipment, published = request.equipment, request.published_adjustment_per_length
    if kind_row(equipment.kind).one_cabinet:
        return Quantity(0.0, "mass", 0.0), "", ()
    missing = tuple(
        Missing(f"/equipment/{name}", "missing.weighed-charge-line-length")
        for name in ("line_length", "included_line_length")
        if getattr(equipment, name) is None
    )
    if equipment.line_length is not None and equipment.line_length == equipment.included_line_length:
        return Quantity(0.0, "mass", 0.0), "", ()
    variant = _not_one_liquid_line(request) if published is None else ""
    if variant:
        wanted = [Missing("/published_adjustment_per_length", "missing.weighed-charge-published-figure")]
        if variant == "metering-unknown":
            location = Missing("/equipment/metering_location", "missing.weighed-charge-metering-location")
            wanted.insert(0, location)
        return None, variant, (*wanted, *missing)
    if published is None:
        missing = (*missing, *lines.missing)
    per_length = lines.per_length if published is None else published
    if equipment.line_length is None or equipment.included_line_length is None or per_length is None:
        return None, "no-line-figures", missing
    value = per_length * (equipment.line_length - equipment.included_line_length)
    width = 0.0 if published is not None else product_uncertainty(value, _share())
    return Quantity(value, "mass", width), "", missing


def _not_one_liquid_line(request: WeighedChargeRequest) -> str:
    """Why the small line's bore does not tell what it holds: two phases, perhaps two, or several lines."""
    equipment, kind = request.equipment, kind_row(request.equipment.kind)
    if equipment.metering_location == "outdoor":
        return "two-phase-line"
    if kind.meters_outdoors and equipment.metering_location is None:
        return "metering-unknown"
    return "several-lines" if kind.several_lines else ""


def _share() -> float:
    """Relative half-width of a computed charge per length."""
    return limit("procedures.line-charge-percent").value / 100.0


def _per_length(lines: LineSet) -> Quantity | None:
    if lines.per_length is None:
        return None
    return Quantity(lines.per_length, "mass_per_length", product_uncertainty(lines.per_length, _share()))


def _amount_finding(request: WeighedChargeRequest, amount: _Amount) -> Finding:
    evidence = given(request.equipment, "/equipment", USED)
    state = State.UNDECIDED if amount.variant else State.PASS
    return report("weighed-charge.amount", state, evidence, measured=amount.total, variant=amount.variant)


def _critical(request: WeighedChargeRequest, critical: bool, blocked: bool) -> tuple[Finding, ...]:
    if not critical:
        return ()
    sealed = kind_row(request.equipment.kind).sealed and request.service_valves is None
    evidence = "/equipment/kind" if sealed else "/equipment/refrigerant"
    if request.service_valves is False:
        evidence = "/service_valves"
    return (report("weighed-charge.critical", State.REVIEW, (evidence,), variant="room" if blocked else ""),)


def _phase(refrigerant: Refrigerant) -> Finding:
    """A zeotrope leaves the cylinder as liquid, or its composition shifts."""
    return report(
        "weighed-charge.phase",
        State.PASS,
        ("/equipment/refrigerant",),
        values={"refrigerant": refrigerant.designation},
        variant=refrigerant.charging_phase,
    )


def _published(request: WeighedChargeRequest, lines: LineSet) -> tuple[Finding, ...]:
    """The maker's figure against the computed one: far apart, one of the sizes is wrong."""
    published = request.published_adjustment_per_length
    if published is None or lines.per_length is None or request.equipment.metering_location == "outdoor":
        return ()
    allowed = limit("procedures.published-difference-percent").value / 100.0 * lines.per_length
    far = above(abs(published - lines.per_length), allowed)
    return (
        report(
            "weighed-charge.published-difference",
            State.REVIEW if far else State.PASS,
            ("/published_adjustment_per_length", "/equipment/liquid_line_diameter"),
            measured=Quantity(published, "mass_per_length"),
            limit=limit("procedures.published-difference-percent").bounds(
                lines.per_length - allowed, lines.per_length + allowed, "mass_per_length"
            ),
        ),
    )


def _other_refrigerant(request: WeighedChargeRequest, refrigerant: Refrigerant) -> tuple[Finding, ...]:
    """The factory charge is a mass of the nameplate's refrigerant, not of another."""
    name = request.equipment.nameplate_refrigerant
    if name is None:
        return ()
    nameplate = known_refrigerant(name, "/equipment/nameplate_refrigerant")
    if nameplate.designation == refrigerant.designation:
        return ()
    return (
        report(
            "weighed-charge.other-refrigerant",
            State.REVIEW,
            ("/equipment/refrigerant", "/equipment/nameplate_refrigerant"),
            values={"refrigerant": refrigerant.designation, "nameplate": nameplate.designation},
        ),
    )
