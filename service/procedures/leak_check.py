"""How often a place asks for a check for leaks, by the CO2 equivalent of the charge."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import Place
from service.knowledge.rule_matching import covers
from service.results.finding import Bounds, Finding, State
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.quantity import Quantity
from service.verdicts.judge import below
from service.verdicts.report import report

CODE = "leak-rate.check"
TONNE = 1000.0  # kg


def leak_check(
    request: LeakRateRequest, place: Place, refrigerant: Refrigerant, charge: tuple[float, str], day: date | None
) -> tuple[tuple[Finding, ...], Quantity | None]:
    """The finding and the interval [months]; nothing where the place has no such rule. charge: [kg], pointer."""
    full_charge, pointer = charge
    for rule in place.rules("leak_check", day):
        tonnes = full_charge * refrigerant.gwp_ar4 / TONNE
        band = _band(rule.thresholds, tonnes, request) if covers(rule.applies_when, refrigerant) else None
        months = None
        if band is not None:
            name = "months_with_detection" if request.leak_detection_system else "months"
            months = Quantity(float(band[name]), "ratio")
        finding = report(
            CODE,
            State.NOT_APPLICABLE if months is None else State.REVIEW,
            (pointer,),
            limit=Bounds("ratio", rule.origin, rule.cited(day), low=None if months is None else months.value),
            values={
                "tonnes": round(tonnes, 1),
                "months": 0 if months is None else int(months.value),
                "rule": rule.title,
            },
        )
        return (finding,), months
    return (), None


def _band(thresholds: Mapping[str, Any], tonnes: float, request: LeakRateRequest) -> Mapping[str, Any] | None:
    """The highest band that the amount reaches; a sealed appliance has a start of its own."""
    sealed = thresholds.get("sealed_below_tonnes")
    if request.hermetically_sealed and sealed is not None and below(tonnes, float(sealed)):
        return None
    reached = [band for band in thresholds["bands"] if not below(tonnes, float(band["from_tonnes"]))]
    return reached[-1] if reached else None
