"""How often a place asks for a check for leaks, by the CO2 equivalent or the mass of what the rule is about."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import Place
from service.knowledge.rule_matching import covers
from service.knowledge.rule_rows import Rule
from service.results.finding import Bounds, Finding, State
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.quantity import Quantity
from service.results.record import Record
from service.verdicts.judge import below
from service.verdicts.report import report

CODE = "leak-rate.check"
TONNE = 1000.0  # kg
KILOGRAMS = "from_kilograms"


class _Asked(Record):
    """One rule and what it makes of the charge: months None where it asks for nothing."""

    rule: Rule
    months: float | None


def leak_check(
    request: LeakRateRequest, place: Place, refrigerant: Refrigerant, charge: tuple[float, str], day: date | None
) -> tuple[tuple[Finding, ...], Quantity | None]:
    """The finding and the shortest interval of all rules of the place; nothing where it has none.

    Parameters
    ----------
    charge : [kg] full charge, above 0, and its pointer

    Returns
    -------
    [months], beside the finding; None where no interval applies

    References
    ----------
    The rule of the place, with its clause.
    """
    full_charge, pointer = charge
    asked = [_ask(request, rule, refrigerant, full_charge) for rule in place.rules("leak_check", day)]
    if not asked:
        return (), None
    strictest = min(asked, key=lambda item: item.months or float("inf"))
    months = None if strictest.months is None else Quantity(strictest.months, "ratio")
    rule = strictest.rule
    finding = report(
        CODE,
        State.NOT_APPLICABLE if months is None else State.REVIEW,
        (pointer,),
        limit=Bounds("ratio", rule.origin, rule.cited(day), low=strictest.months),
        values={
            "tonnes": round(full_charge * refrigerant.gwp_ar4 / TONNE, 1),
            "months": 0 if months is None else int(months.value),
            "rule": rule.title,
        },
    )
    return (finding,), months


def _ask(request: LeakRateRequest, rule: Rule, refrigerant: Refrigerant, full_charge: float) -> _Asked:
    band = _band(rule, refrigerant, full_charge, request) if covers(rule.applies_when, refrigerant) else None
    name = "months_with_detection" if request.leak_detection_system else "months"
    return _Asked(rule, None if band is None else float(band[name]))


def _band(
    rule: Rule, refrigerant: Refrigerant, full_charge: float, request: LeakRateRequest
) -> Mapping[str, Any] | None:
    """The highest band that the amount reaches; a sealed appliance has a start of its own."""
    bands = rule.thresholds["bands"]
    by_mass = KILOGRAMS in bands[0]
    amount = full_charge * (_share(rule, refrigerant) if by_mass else refrigerant.gwp_ar4 / TONNE)
    sealed = rule.thresholds.get("sealed_below_kilograms" if by_mass else "sealed_below_tonnes")
    if request.hermetically_sealed and sealed is not None and below(amount, float(sealed)):
        return None
    start = KILOGRAMS if by_mass else "from_tonnes"
    reached = [band for band in bands if not below(amount, float(band[start]))]
    return reached[-1] if reached else None


def _share(rule: Rule, refrigerant: Refrigerant) -> float:
    """Share by mass of the components that the rule names."""
    named = rule.applies_when.components
    return sum(share.mass_percent for share in refrigerant.composition if share.designation in named) / 100.0
