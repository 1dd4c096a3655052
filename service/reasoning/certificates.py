"""What whoever does a step must hold: the row names the role, the rules of the place name the certificate."""

from service.knowledge.catalogues import StepRow
from service.knowledge.rule_book import book
from service.knowledge.rule_matching import covers, covers_kind
from service.knowledge.rule_rows import Rule
from service.reasoning.case import Case
from service.results.visit import Visit
from service.results.visit.dates import day_of
from service.verdicts.refrigerant_held import refrigerant_held

FLAMMABLE_TRAINING = "flammable-refrigerant-training"


def certificates_of(row: StepRow, case: Case) -> tuple[str, ...]:
    """Certificates of a step; training for flammable refrigerant only where there is one.

    A role that no rule of the place names stays the role.
    """
    wanted = [code for code in row.certificates if case.flammable or code != FLAMMABLE_TRAINING]
    if case.flammable and row.opens_circuit and FLAMMABLE_TRAINING not in wanted:
        wanted.append(FLAMMABLE_TRAINING)
    return tuple(_named(code, case.visit) for code in wanted)


def _named(role: str, visit: Visit) -> str:
    rules = book().place(visit.site.jurisdiction).rules("certificate", day_of(visit.visit_date))
    named = (rule for rule in rules if rule.thresholds["role"] == role and _fits(rule, visit))
    return next((str(rule.thresholds["certificate"]) for rule in named), role)


def _fits(rule: Rule, visit: Visit) -> bool:
    """Whether the rule is about this kind of unit, charge and refrigerant.

    A charge or refrigerant that is not known is taken for one that it is about.
    """
    held, charge = refrigerant_held(visit), visit.equipment.factory_charge
    about = covers_kind(rule.applies_when, visit.equipment.kind) and (
        charge is None or rule.applies_when.charge(charge)
    )
    return about and (held is None or covers(rule.applies_when, held))
