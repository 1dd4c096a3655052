"""Which parts a visit needs, and which are taken along for a suspicion.

A part is needed only where a finding condemns it, or where it belongs to the repair of a proven cause and no other
cause is suspected; one that another finding clears is not sold, and no unit gets a part that it does not have.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from service.knowledge.catalogues import StepRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import parts as part_rows
from service.knowledge.limits import limit
from service.reasoning.case import Case
from service.reasoning.cycle_weighing import class_of
from service.reasoning.part_state import fits, is_condemned, may_be_sold
from service.reasoning.proof import proof_of
from service.reasoning.ratings import part_of
from service.reasoning.repair import is_to_be_repaired
from service.results.planned import PartNeeded


def needed_of(case: Case, step: StepRow) -> tuple[str, ...]:
    """Parts of a planned step that are needed: condemned, or of the proven cause's repair."""
    lead = cause_rows()[case.lead.code] if case.causes else None
    repaired = lead is not None and step.code in lead.repair and is_to_be_repaired(case) and _is_settled(case)
    named = [code for code in step.parts if fits(case, code) and may_be_sold(case, code)]
    return tuple(
        code
        for code in named
        if is_condemned(case, part_rows()[code]) or (repaired and not _needs_its_own_proof(case, code))
    )


def _is_settled(case: Case) -> bool:
    """Whether the proven cause is sure enough for its part: where only all readings together stand behind it, by
    its own share; else while no cause that shows on the gauges as well is suspected.
    """
    weighing = case.cycle.weighing
    if weighing is None or class_of(case.lead.code) not in weighing.shares:
        return True
    if not proof_of(case, case.lead):
        return case.lead.probability >= limit("reasoning.part-without-test").value
    least = limit("reasoning.suspected").value
    return not any(
        cause.probability >= least and class_of(cause.code) in weighing.shares for cause in case.causes[1:]
    )


def _needs_its_own_proof(case: Case, code: str) -> bool:
    """A part with tests of its own in another part's repair, or whose test is one of several that prove the cause,
    unless it is renewed as its companion."""
    row = part_rows()[code]
    lead = cause_rows()[case.lead.code]
    of_another = code not in lead.parts or not row.condemned_by.keys().isdisjoint(lead.proof)
    return bool(row.condemned_by) and of_another and not row.companion


def taken_along(case: Case, needed: Sequence[PartNeeded], planned: Iterable[StepRow]) -> tuple[PartNeeded, ...]:
    """Parts of suspected causes and of planned steps that nothing condemns yet; a compressor never goes along."""
    least = limit("reasoning.suspected").value
    suspected = [cause_rows()[cause.code] for cause in case.causes if cause.probability >= least]
    codes = [code for step in planned for code in step.parts]
    codes += [code for row in suspected if not row.condemns for code in row.parts]
    have = {part.code for part in needed}
    wanted = [code for code in dict.fromkeys(codes) if code not in have and fits(case, code)]
    return tuple(part_of(code, case.visit, case.findings) for code in wanted if not part_rows()[code].compressor)
