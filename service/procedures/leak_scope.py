"""Which leak-repair rules bind the owner, or why none does."""

from datetime import date

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import Place
from service.knowledge.rule_matching import covers, covers_kind
from service.knowledge.rule_rows import Rule
from service.results.finding import Assumption
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.record import Record
from service.results.units import POUND


class Scope(Record):
    """rules with the lowest threshold [%], or reason: why none applies; open_question: what is not known yet.

    contested: the rule that tells what the agency says in two ways.
    """

    rules: tuple[Rule, ...] = ()
    threshold: float | None = None
    reason: str = ""
    open_question: str = ""
    least_charge: float | None = None
    contested: Rule | None = None


class ApplianceClass(Record):
    """code: as stated or as a rule has it by kind; contested: the rule that leaves it open."""

    code: str | None
    assumptions: tuple[Assumption, ...] = ()
    contested: Rule | None = None


def scope(
    place: Place, refrigerant: Refrigerant, full_charge: float, appliance: ApplianceClass, day: date | None
) -> Scope:
    """Narrow the rules down by place, refrigerant, full charge [kg], day and class of appliance."""
    if not place.held:
        return Scope(open_question="place")
    held = place.rules("leak_rate")
    if not held:
        return Scope(reason="no-rule")
    covering = [rule for rule in held if covers(rule.applies_when, refrigerant)]
    if not covering:
        return Scope(reason="refrigerant")
    large = [rule for rule in covering if rule.applies_when.charge(full_charge)]
    if not large:
        least = min(rule.applies_when.charge_from_lb or 0.0 for rule in covering)
        return Scope(reason="charge", least_charge=least * POUND)
    if day is not None and day < min(rule.valid_from for rule in held if rule.valid_from is not None):
        return Scope(open_question="before-edition")
    return _on_that_day(large, appliance, day)


def _on_that_day(rules: list[Rule], appliance: ApplianceClass, day: date | None) -> Scope:
    """The rules in force for that class."""
    current = [rule for rule in rules if day is None or rule.in_force(day)]
    if not current:
        return Scope(reason="date")
    bound = [rule for rule in current if appliance.code not in rule.applies_when.not_classes]
    if not bound:
        return Scope(reason="class")
    # Where a rule leaves a class out, the class must be known; where none does, the thresholds may still differ.
    if appliance.code is None:
        open_question = "contested" if appliance.contested is not None and _leaves_out(bound) else "class"
        return Scope(open_question=open_question, contested=appliance.contested)
    if day is None:
        return Scope(open_question="date")
    return Scope(tuple(bound), min(float(rule.thresholds["percent"][appliance.code]) for rule in bound))


def _leaves_out(rules: list[Rule]) -> bool:
    return any(rule.applies_when.not_classes for rule in rules)


def class_of(request: LeakRateRequest, place: Place) -> ApplianceClass:
    """The class that was stated, which no kind of unit overrules; else what a rule of the place has for it."""
    kind = request.equipment.kind
    if request.appliance_class is not None or kind is None:
        return ApplianceClass(request.appliance_class)
    for rule in place.rules("appliance_class"):
        if not covers_kind(rule.applies_when, kind):
            continue
        if rule.thresholds.get("contested"):
            return ApplianceClass(None, contested=rule)
        assumed = Assumption("assumption.leak-rate-unitary", "/appliance_class")
        return ApplianceClass(rule.thresholds["class"], (assumed,))
    return ApplianceClass(None)
