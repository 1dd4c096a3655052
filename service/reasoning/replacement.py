"""Whether a replacement should be quoted, and the facts that bear on it; facts only, no selling."""

from collections.abc import Sequence

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.limits import limit
from service.knowledge.phase_out import phased_out
from service.reasoning.circumstances import age_in_years
from service.reasoning.steps import ESTABLISHED
from service.results.answer import Cause, Sentence
from service.results.cycle import CycleLoss
from service.results.visit import Visit


def replacement_reasons(
    visit: Visit, causes: Sequence[Cause], state: str, loss: CycleLoss | None = None
) -> tuple[Sentence, ...]:
    """Reasons in order; empty unless the compressor is condemned and age or refrigerant speak for replacing.

    loss: what the fault costs, where the running readings tell.
    """
    first = causes[0]
    condemned = cause_rows()[first.code].condemns and first.probability >= ESTABLISHED and bool(first.supported_by)
    if not condemned or state == "undecided":
        return ()
    age, rule = _age(visit), _refrigerant(visit, alone=True)
    if not age and not rule:
        return ()
    said = (Sentence("replacement.compressor", {"cause": first.code}), *age, *rule)
    return (*said, *_refrigerant(visit, alone=False), *_energy(loss))


def _age(visit: Visit) -> tuple[Sentence, ...]:
    years = age_in_years(visit)
    if years is None or years < limit("replacement.age-years").value:
        return ()
    return (Sentence("replacement.age", {"years": years}),)


def _refrigerant(visit: Visit, *, alone: bool) -> tuple[Sentence, ...]:
    """The rule about the refrigerant, with its date. alone: one that is a reason by itself, or one that is not."""
    name = visit.equipment.refrigerant or visit.equipment.nameplate_refrigerant
    rule = phased_out(name, visit.visit_date) if name else None
    if rule is None or rule.alone is not alone:
        return ()
    values = {"refrigerant": name or "", "date": rule.from_date, "rule": rule.source.split(" (")[0]}
    return (Sentence(f"replacement.{rule.code}", values),)


def _energy(loss: CycleLoss | None) -> tuple[Sentence, ...]:
    """How much less cooling a unit of electricity gives than it would from the same unit when sound."""
    if loss is None or loss.efficiency.high >= 1.0:
        return ()
    return (Sentence("replacement.energy", {"percent": round(100.0 * (1.0 - loss.efficiency.likely))}),)
