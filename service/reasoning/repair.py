"""Whether the leading cause is repaired now, or its repair waits for what may yet clear the part."""

from __future__ import annotations

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import parts as part_rows
from service.knowledge.row_types import matching
from service.reasoning.case import Case
from service.reasoning.holds import contradicts, owes
from service.reasoning.part_state import may_be_sold
from service.reasoning.proof import binding_holds, is_proven
from service.results.visit.kept import kept


@kept
def is_to_be_repaired(case: Case) -> bool:
    """Proven; a repair waits for what may yet clear the part, above all a compressor."""
    lead = case.lead
    row = cause_rows()[lead.code]
    if not is_proven(case, lead) or matching(row.waits_for, case.findings):
        return False
    binding = binding_holds(case)
    if contradicts(binding) or (row.condemns and owes(binding)):
        return False
    return all(may_be_sold(case, code) for code in row.parts if part_rows()[code].compressor)
