"""Setting aside what rests on readings that cannot all be true.

A verdict from a reading that another reading contradicts would be a guess, whichever way it falls. What raises a
hold stays as it is: a contradiction never hides another hold.
"""

from collections.abc import Sequence
from dataclasses import replace

from service.checks.plausible.readings import is_contradiction, is_disagreement
from service.checks.refrigerant.refrigerant_doubts import DOUBTED, PRESSURES
from service.knowledge.catalogues import findings as finding_rows
from service.results.finding import CONTRADICTED, Confidence, Finding, State
from service.verdicts.report import softened

# What can be contradicted: readings, not the nameplate or the site that they are judged with.
READ = ("/running/", "/air/", "/standing/", "/start_up/")
JUDGED = (State.PASS, State.REVIEW, State.FAIL, State.UNDECIDED)


def set_aside(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings, those undecided that rest on a contradicted reading and raise no hold."""
    doubtful = _doubtful_readings(findings)
    if not doubtful:
        return tuple(findings)
    return tuple(_aside(item) if _is_set_aside(item) and _rests_on(item, doubtful) else item for item in findings)


def failures(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Failed findings that say something of the unit: no contradiction, and none that rests on one."""
    doubtful = _doubtful_readings(findings)
    failed = (item for item in findings if item.state is State.FAIL and not is_contradiction(item))
    return tuple(item for item in failed if not _rests_on(item, doubtful))


def _doubtful_readings(findings: Sequence[Finding]) -> set[str]:
    failed = [finding for finding in findings if finding.state is State.FAIL]
    named = {pointer for finding in failed if is_contradiction(finding) for pointer in finding.evidence}
    return {pointer for pointer in named if pointer.startswith(READ)} | _on_a_doubtful_curve(findings)


def _on_a_doubtful_curve(findings: Sequence[Finding]) -> set[str]:
    """Running pressures are judged by their saturation temperature: worth nothing while another refrigerant may be
    inside. A standing pressure that fits another one may as well be a lost charge, and its findings say so."""
    named = (item for item in findings if item.state in DOUBTED.get(item.code, ()))
    return {pointer for item in named for pointer in item.evidence if pointer in PRESSURES}


def _rests_on(finding: Finding, doubtful: set[str]) -> bool:
    return not doubtful.isdisjoint(finding.evidence)


def _is_set_aside(finding: Finding) -> bool:
    row = finding_rows()[finding.code]
    judged = finding.state in JUDGED and not is_disagreement(finding)
    return judged and not row.stands and not row.raises.get(finding.state)


def _aside(finding: Finding) -> Finding:
    return replace(
        finding,
        state=State.UNDECIDED,
        severity=softened(finding_rows()[finding.code].severity, State.UNDECIDED),
        confidence=Confidence.FIRM,
        variant=CONTRADICTED,
    )
