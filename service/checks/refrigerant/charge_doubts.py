"""What else in the visit moves superheat or subcooling, and so forbids a verdict on charge."""

from collections.abc import Iterable

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.charge_moves import DIRECTIONS
from service.knowledge.row_types import of_state
from service.results.finding import Finding


def speaking_against(findings: Iterable[Finding], *directions: str) -> tuple[Finding, ...]:
    """Those of the findings that forbid a verdict in one of the directions (add, remove, none)."""
    return tuple(finding for finding in findings if _forbids(finding, directions))


def _forbids(finding: Finding, directions: tuple[str, ...]) -> bool:
    row = finding_rows()[finding.code]
    word = of_state(row.forbids_charge, finding, "")
    forbidden = not set(DIRECTIONS.get(word, ())).isdisjoint(directions)
    return forbidden or str(finding.state) in row.contradicts
