"""Setting aside what rests on readings that cannot all be true.

A verdict from a reading that another reading contradicts would be a guess, whichever way it falls. Holds were
raised before: a contradiction never hides another hold.
"""

from collections.abc import Sequence

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.row_types import of_state
from service.knowledge.told import in_states, told
from service.reasoning.case import Case
from service.results.finding import CONTRADICTED, Confidence, Finding, Severity, State
from service.results.record import replace
from service.results.visit.kept import kept
from service.verdicts.report import softened

# What can be contradicted: readings, not the nameplate or the site that they are judged with.
READ = ("/running/", "/air/", "/standing/", "/start_up/", "/electrical/")
JUDGED = (State.PASS, State.REVIEW, State.FAIL, State.UNDECIDED)


def set_aside(case: Case) -> Case:
    """The case with its doubtful readings named, and the findings that rest on them undecided."""
    doubtful = doubtful_readings(case.raw)
    findings = tuple(_aside(item) if _goes(item, doubtful) else item for item in case.raw)
    unsettled = doubtful | _unsettled(case)
    return replace(case, doubtful=doubtful, unsettled=unsettled, findings=findings)


def doubtful_readings(findings: Sequence[Finding]) -> frozenset[str]:
    """Readings that a finding contradicts, or that cannot be judged while it stands."""
    doubts = told(findings, "doubts")
    doubted = {pointer for item, pointers in doubts for pointer in pointers if pointer in item.evidence}
    return frozenset(pointer for pointer in _in_conflict(findings) | doubted if pointer.startswith(READ))


def _in_conflict(findings: Sequence[Finding]) -> frozenset[str]:
    return frozenset(pointer for item in in_states(findings, "contradicts") for pointer in item.evidence)


@kept
def contested(case: Case) -> frozenset[str]:
    """Pointers, of readings or not, that cannot all be true."""
    return _in_conflict(case.raw)


@kept
def contradicted(case: Case) -> frozenset[str]:
    """Readings of the unit that cannot all be true: reading them again may settle which is.

    What cannot be judged for another reason, as pressures of an unknown refrigerant, would read the same again.
    """
    return frozenset(pointer for pointer in contested(case) if pointer.startswith(READ))


def is_contradiction(finding: Finding) -> bool:
    """True for a finding that says which readings cannot all be true."""
    return str(finding.state) in finding_rows()[finding.code].contradicts


def is_disagreement(finding: Finding) -> bool:
    """True for a finding about readings that do not agree, within their accuracy or beyond it."""
    return finding_rows()[finding.code].disagreement


def rests_on_doubtful(case: Case, finding: Finding) -> bool:
    """True for what was read on doubtful readings: a hazard keeps its hold, but it says nothing of the unit."""
    if case.doubtful.isdisjoint(finding.evidence):
        return False
    row = finding_rows()[finding.code]
    return not (row.stands or row.disagreement or is_contradiction(finding))


def is_void(case: Case, finding: Finding) -> bool:
    """True for what rests on readings that tell nothing of the unit, as on an iced coil; a hazard stands all the
    same."""
    beginnings = _beginnings(case, "voids")
    void = bool(beginnings) and any(pointer.startswith(beginnings) for pointer in finding.evidence)
    return void and finding.severity is not Severity.CRITICAL


@kept
def failures(case: Case) -> tuple[Finding, ...]:
    """Failed findings that say something of the unit: no contradiction, and none that rests on one."""
    failed = (item for item in case.findings if item.state is State.FAIL and not is_disagreement(item))
    return tuple(item for item in failed if case.doubtful.isdisjoint(item.evidence))


def _unsettled(case: Case) -> frozenset[str]:
    """Readings that have not settled: they are taken again, so what yields them is not done."""
    beginnings = _beginnings(case, "unsettles")
    if not beginnings:
        return frozenset()
    return frozenset(pointer for pointer in case.read if pointer.startswith(beginnings))


@kept
def _beginnings(case: Case, member: str) -> tuple[str, ...]:
    """Beginnings of pointers that the findings name in a member of their rows."""
    return tuple(start for _, starts in told(case.raw, member) for start in starts)


def _goes(finding: Finding, doubtful: frozenset[str]) -> bool:
    if not doubtful or doubtful.isdisjoint(finding.evidence):
        return False
    row = finding_rows()[finding.code]
    judged = finding.state in JUDGED and not row.disagreement and str(finding.state) not in row.contradicts
    stays = row.stands or bool(of_state(row.raises, finding, ()))
    return judged and not stays


def _aside(finding: Finding) -> Finding:
    return replace(
        finding,
        state=State.UNDECIDED,
        severity=softened(finding_rows()[finding.code].severity, State.UNDECIDED),
        confidence=Confidence.FIRM,
        variant=CONTRADICTED,
    )
