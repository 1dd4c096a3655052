"""Which leak-repair rule binds the owner, or why none does."""

from dataclasses import dataclass
from datetime import date

from service.knowledge.procedure_tables import LeakRule, leak_rules
from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerant_rows import refrigerant_data
from service.results.finding import Assumption
from service.results.procedures.leak_rate import LeakRateRequest

UNITARY = "residential_light_commercial"


@dataclass(frozen=True, slots=True)
class Scope:
    """rule with its threshold [%], or reason: why none applies; open_question: what is not known yet."""

    rule: LeakRule | None = None
    threshold: float | None = None
    reason: str = ""
    open_question: str = ""
    least_charge: float | None = None


def scope(refrigerant: Refrigerant, full_charge: float, appliance_class: str | None, day: date | None) -> Scope:
    """Narrow the rules down by refrigerant, full charge [kg], day and class of appliance."""
    covering = [rule for rule in leak_rules() if _covers(rule, refrigerant)]
    if not covering:
        return Scope(reason="refrigerant")
    large = [rule for rule in covering if full_charge >= rule.least_charge * (1.0 - 1e-9)]
    if not large:
        return Scope(reason="charge", least_charge=min(rule.least_charge for rule in covering))
    return _on_that_day(large, appliance_class, day)


def _on_that_day(rules: list[LeakRule], appliance_class: str | None, day: date | None) -> Scope:
    """The rule in force for that class; editions before the earliest one held here leave the question open."""
    if day is not None and day < min(rule.starts for rule in leak_rules()):
        return Scope(open_question="before-edition")
    current = [rule for rule in rules if day is None or rule.in_force(day)]
    if not current:
        return Scope(reason="date")
    bound = [rule for rule in current if appliance_class not in rule.excluded_classes]
    if not bound:
        return Scope(reason="class")
    if appliance_class is None or day is None:
        return Scope(open_question="class" if appliance_class is None else "date")
    return Scope(bound[0], bound[0].thresholds[appliance_class])


def _covers(rule: LeakRule, refrigerant: Refrigerant) -> bool:
    if rule.contains == "ozone_depleting":
        return refrigerant.ozone_depleting
    components = refrigerant_data().components
    held = [components[share.designation] for share in refrigerant.composition]
    fluorocarbon = any(
        not component.ozone_depleting and component.gwp_ar4 > rule.potential_above for component in held
    )
    return fluorocarbon and refrigerant.gwp_ar4 > rule.potential_above


def class_of(request: LeakRateRequest) -> tuple[str | None, tuple[Assumption, ...]]:
    """The class said, or the one that follows from the kind of unit: every kind listed is unitary equipment."""
    said, kind = request.appliance_class, request.equipment.kind
    if kind is None or said in (UNITARY, "commercial_refrigeration", "industrial_process_refrigeration"):
        return said, ()
    return UNITARY, (Assumption("assumption.leak-rate-unitary", "/appliance_class"),)
