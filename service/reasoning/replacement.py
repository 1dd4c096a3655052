"""Whether a replacement should be quoted, and the facts that bear on it; facts only, no selling."""

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.limits import limit
from service.knowledge.phase_out import phased_out
from service.knowledge.rule_book import book
from service.reasoning.case import Case
from service.reasoning.circumstances import age_in_years
from service.reasoning.proof import is_likely
from service.results.cycle import CycleLoss
from service.results.planned import Sentence
from service.results.visit import Visit
from service.results.visit.dates import day_of


def replacement_reasons(case: Case) -> tuple[Sentence, ...]:
    """Reasons in order; empty unless the compressor is condemned and age or refrigerant speak for replacing."""
    visit, lead, verdict = case.visit, case.lead, case.cycle.verdict
    if not (cause_rows()[lead.code].condemns and is_likely(lead)) or case.decision.state == "undecided":
        return ()
    age, rule = _age(visit), _refrigerant(visit, alone=True)
    if not age and not rule:
        return ()
    said = (Sentence("replacement.compressor"), *age, *rule)
    energy = _energy(verdict.loss if verdict is not None else None)
    return (*said, *_refrigerant(visit, alone=False), *energy, *_disposal(visit))


def _disposal(visit: Visit) -> tuple[Sentence, ...]:
    """What is written down when the old unit is disposed of, where its charge is known and a rule asks for it."""
    charge = visit.equipment.factory_charge
    rules = book().place(visit.site.jurisdiction).rules("disposal_record", day_of(visit.visit_date))
    fitting = (rule for rule in rules if charge is not None and rule.applies_when.charge(charge))
    return tuple(Sentence("replacement.record", {"rule_said": rule.code, "rule": rule.title}) for rule in fitting)


def _age(visit: Visit) -> tuple[Sentence, ...]:
    years = age_in_years(visit)
    if years is None or years < limit("replacement.age-years").value:
        return ()
    return (Sentence("replacement.age", {"years": years}),)


def _refrigerant(visit: Visit, *, alone: bool) -> tuple[Sentence, ...]:
    """The rule about the refrigerant, with its date. alone: one that is a reason by itself, or one that is not."""
    name = visit.equipment.refrigerant_named
    rules = phased_out(name, visit.visit_date, visit.equipment.kind, visit.site.jurisdiction) if name else ()
    return tuple(
        Sentence("replacement.rule", {"refrigerant": name or "", "rule_said": rule.code})
        for rule in rules
        if rule.thresholds["alone"] is alone
    )


def _energy(loss: CycleLoss | None) -> tuple[Sentence, ...]:
    """How much less cooling a unit of electricity gives than it would from the same unit when sound."""
    if loss is None or loss.efficiency.high >= 1.0:
        return ()
    return (Sentence("replacement.energy", {"percent": round(100.0 * (1.0 - loss.efficiency.likely))}),)
