"""Whether a replacement should be quoted, and the facts that speak for it; facts only, no selling."""

from collections.abc import Sequence

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.limits import limit
from service.knowledge.phase_out import phased_out
from service.reasoning.steps import ESTABLISHED
from service.results.answer import Cause, Sentence
from service.results.visit import Visit


def replacement_reasons(visit: Visit, causes: Sequence[Cause], state: str) -> tuple[Sentence, ...]:
    """Reasons in order; empty unless the compressor is condemned and age or refrigerant speak for replacing."""
    first = causes[0]
    condemned = (
        cause_rows()[first.code].condemns and first.probability >= ESTABLISHED and bool(first.supported_by)
    )
    if not condemned or state == "undecided":
        return ()
    facts = [*_age(visit), *_refrigerant(visit)]
    return (Sentence("replacement.compressor", {"cause": first.code}), *facts) if facts else ()


def _age(visit: Visit) -> tuple[Sentence, ...]:
    made = visit.equipment.year_made
    if made is None or visit.visit_date is None:
        return ()
    age = int(visit.visit_date[:4]) - made
    return (
        (Sentence("replacement.age", {"years": age}),) if age >= limit("replacement.age-years").value else ()
    )


def _refrigerant(visit: Visit) -> tuple[Sentence, ...]:
    name = visit.equipment.refrigerant
    reason = phased_out(name) if name else None
    return (Sentence(f"replacement.{reason}", {"refrigerant": name or ""}),) if reason else ()
