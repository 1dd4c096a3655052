"""Hazards in the findings become holds, gravest first."""

from collections.abc import Sequence

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.results.answer import Hold
from service.results.finding import Finding


def raise_holds(findings: Sequence[Finding]) -> tuple[Hold, ...]:
    """Holds that the findings raise, in the order of the catalogue; each names the findings behind it."""
    raised: dict[str, list[str]] = {}
    for finding in findings:
        for code in finding_rows()[finding.code].raises.get(finding.state, ()):
            raised.setdefault(code, [])
            if finding.code not in raised[code]:
                raised[code].append(finding.code)
    return tuple(Hold(code, tuple(raised[code])) for code in hold_rows() if code in raised)


def keeps_off(holds: Sequence[Hold]) -> bool:
    """True while any hold forbids power; readings that contradict alone do not."""
    return any(not hold_rows()[hold.code].allows_watched for hold in holds)
