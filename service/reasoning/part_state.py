"""What is known of a part: whether the unit has it, what condemns it, clears it, and must be cleared first."""

from __future__ import annotations

from service.knowledge.catalogues import PartRow
from service.knowledge.catalogues import parts as part_rows
from service.knowledge.row_types import matching
from service.reasoning.case import Case
from service.reasoning.causes import is_weighed
from service.reasoning.holds import owes
from service.reasoning.proof import binding_holds
from service.reasoning.unit import has_part
from service.results.finding import CONTRADICTED


def is_condemned(case: Case, part: PartRow) -> bool:
    """Whether a finding that nothing contradicts condemns the part.

    What the cycle model has weighed condemns none by itself: the cause that it speaks for must be proven.
    """
    return any(
        item.variant != CONTRADICTED and not is_weighed(item, case.cycle.weighing)
        for item in matching(part.condemned_by, case.findings)
    )


def is_cleared(case: Case, part: PartRow) -> bool:
    """Whether a finding clears the part."""
    return bool(matching(part.cleared_by, case.findings))


def fits(case: Case, code: str) -> bool:
    """Whether a part may be named at all: the unit has it, and nothing read clears it."""
    row = part_rows()[code]
    return has_part(case.visit, row) and not is_cleared(case, row)


def may_be_sold(case: Case, code: str) -> bool:
    """Whether nothing is owed that could still clear the part: other parts first, and readings of a compressor."""
    row = part_rows()[code]
    waiting = [part_rows()[other] for other in row.waits_for]
    open_parts = any(
        has_part(case.visit, other) and case.visit.equipment.kind is not None and not is_cleared(case, other)
        for other in waiting
        if other.unit
    )
    return not open_parts and not (row.compressor and owes(binding_holds(case)))
