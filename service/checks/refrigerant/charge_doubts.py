"""What else in the visit moves superheat or subcooling, and so forbids a verdict on charge."""

from collections.abc import Iterable

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.row_types import of_state
from service.results.finding import Finding

EVERY, REMOVE = "any", "remove"


def speaking_against(findings: Iterable[Finding], direction: str) -> tuple[Finding, ...]:
    """Those of the findings that forbid a verdict in that direction (add, remove, none)."""
    return tuple(finding for finding in findings if _forbids(finding, direction))


def _forbids(finding: Finding, direction: str) -> bool:
    row = finding_rows()[finding.code]
    word = of_state(row.forbids_charge, finding, "")
    return word == EVERY or (word == REMOVE and direction == REMOVE) or str(finding.state) in row.contradicts
