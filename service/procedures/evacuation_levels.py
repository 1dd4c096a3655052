"""How far an appliance is drawn down before it is opened, by the rules of the place."""

from service.knowledge.kinds import kind_row
from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import Place, book
from service.knowledge.rule_matching import covers, covers_kind
from service.knowledge.rule_rows import Rule
from service.results.finding import Bounds, Finding, Missing, State
from service.results.procedures.recovery import RecoveryRequest
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.units import MICRON_OF_MERCURY, STANDARD_ATMOSPHERE
from service.results.visit.dates import day_of
from service.verdicts.report import report

CODE = "recovery.evacuation-level"
INCH_OF_MERCURY = 25400.0 * MICRON_OF_MERCURY  # Pa


class DrawDown(Record):
    """The pressure or the share that the rule asks for, and what was lacking to know it."""

    finding: Finding
    pressure: Quantity | None = None
    percent: Quantity | None = None
    missing: tuple[Missing, ...] = ()


def draw_down(request: RecoveryRequest, refrigerant: Refrigerant | None) -> DrawDown:
    """The level required, by pressure class, full charge and age of the recovery machine."""
    place = book().place(request.site.jurisdiction)
    if not place.held:
        asked = () if request.site.jurisdiction else (Missing("/site/jurisdiction", "missing.jurisdiction"),)
        values = {"place": place.asked or "-", "held": ", ".join(book().held)}
        return DrawDown(report(CODE, State.UNDECIDED, (), variant="place", values=values), missing=asked)
    if not place.rules("evacuation_level"):
        values = {"place": place.asked}
        return DrawDown(report(CODE, State.NOT_APPLICABLE, (), variant="no-rule", values=values))
    if request.small_appliance or _is_small(request, place):
        return _small(request, place)
    return _by_class(request, refrigerant, place)


def _by_class(request: RecoveryRequest, refrigerant: Refrigerant | None, place: Place) -> DrawDown:
    if refrigerant is None:
        return DrawDown(report(CODE, State.UNDECIDED, ()))
    charge, pointer = full_charge(request)
    if charge is None:
        missing = (Missing("/full_charge", "missing.recovery-full-charge"),)
        return DrawDown(report(CODE, State.UNDECIDED, ()), missing=missing)
    if _may_be_small(request, place, charge):
        missing = (Missing("/small_appliance", "missing.recovery-small-appliance"),)
        return DrawDown(report(CODE, State.UNDECIDED, (pointer,), variant="small-or-not"), missing=missing)
    rule = _level(place, refrigerant, charge)
    asked = _absolute(rule, before_1993=bool(request.recovery_machine_before_1993))
    # Where the air is thinner, nothing above the site's own pressure can count as drawn down.
    pressure = min(asked, request.site_pressure)
    finding = report(
        CODE,
        State.PASS,
        (pointer,),
        limit=Bounds("pressure", rule.origin, rule.cited(day_of(request.visit_date)), high=pressure),
        values={
            "pressure": Quantity(pressure, "pressure"),
            "vacuum": round((STANDARD_ATMOSPHERE - asked) / INCH_OF_MERCURY, 1),
            "class": refrigerant.pressure_class,
            "source": rule.title,
        },
    )
    return DrawDown(finding, Quantity(pressure, "pressure"))


def _is_small(request: RecoveryRequest, place: Place) -> bool:
    """Whether its kind and charge say that it is an appliance that was filled and sealed in a factory."""
    charge, _ = full_charge(request)
    sealed = request.small_appliance is None and kind_row(request.equipment.kind).sealed
    return sealed and charge is not None and _covered(request, place, charge)


def _covered(request: RecoveryRequest, place: Place, charge: float) -> bool:
    """Whether a rule on small appliances covers the kind of unit with this charge [kg]."""
    rules = [rule.applies_when for rule in place.rules("small_appliance")]
    return any(applies.charge(charge) and covers_kind(applies, request.equipment.kind) for applies in rules)


def _may_be_small(request: RecoveryRequest, place: Place, charge: float) -> bool:
    """Whether it may be an appliance that was filled and sealed in a factory, and nobody has said."""
    return request.small_appliance is None and _covered(request, place, charge)


def _level(place: Place, refrigerant: Refrigerant, charge: float) -> Rule:
    """The rule of the highest charge that the appliance reaches."""
    fitting = [
        rule
        for rule in place.rules("evacuation_level")
        if covers(rule.applies_when, refrigerant) and rule.applies_when.charge(charge)
    ]
    return max(fitting, key=lambda rule: rule.applies_when.charge_from_lb or 0.0)


def _absolute(rule: Rule, *, before_1993: bool) -> float:
    """The level as an absolute pressure [Pa] at a standard atmosphere."""
    if "absolute_millimetres" in rule.thresholds:
        return float(rule.thresholds["absolute_millimetres"]) * 1000.0 * MICRON_OF_MERCURY
    inches = rule.thresholds["vacuum_before" if before_1993 else "vacuum_after"]
    return STANDARD_ATMOSPHERE - float(inches) * INCH_OF_MERCURY


def full_charge(request: RecoveryRequest) -> tuple[float | None, str]:
    """Full charge of the appliance and where it was said.

    Returns
    -------
    [kg]; None where none of the three is given

    References
    ----------
    The request, as it was read.
    """
    if request.full_charge is not None:
        return request.full_charge, "/full_charge"
    if request.equipment.factory_charge is not None:
        return request.equipment.factory_charge, "/equipment/factory_charge"
    return request.expected_charge, "/expected_charge"


def _small(request: RecoveryRequest, place: Place) -> DrawDown:
    """A small appliance: a share of its charge, more with the compressor running and a machine made since 1993."""
    rule = place.rules("small_appliance")[0]
    name = "percent_running" if request.compressor_runs else "percent_stopped"
    share = float(rule.thresholds["percent_before_1993" if request.recovery_machine_before_1993 else name])
    percent = Quantity(share, "percent")
    finding = report(
        CODE,
        State.PASS,
        ("/small_appliance" if request.small_appliance else "/equipment/kind",),
        limit=Bounds("percent", rule.origin, rule.cited(day_of(request.visit_date)), low=share),
        values={"percent": percent, "vacuum": float(rule.thresholds["vacuum"]), "source": rule.title},
        variant="small-appliance",
    )
    return DrawDown(finding, percent=percent)
