"""What the checks and the cycle model find in a visit."""

from __future__ import annotations

from collections.abc import Sequence

from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.case import Case, CycleCase
from service.reasoning.cycle import judge_cycles
from service.reasoning.cycle_findings import check_cycle
from service.reasoning.cycle_question import cycle_inputs
from service.reasoning.cycle_weighing import weigh
from service.reasoning.expected_silent import why_not_told
from service.results.cycle import CycleInputs, CycleVerdict
from service.results.finding import Finding, State
from service.results.pointers import without
from service.results.record import replace
from service.results.visit import Visit
from service.verdicts.report import Checked, softened

PARTLY = "partly-cleared"


def find(case: Case) -> Case:
    """The case with what its checks find; what was reported is cleared by the checks made for it."""
    checked = tuple(check(case.visit) for check in case.profile.checks)
    found = [finding for check in checked for finding in check.findings]
    return replace(case, checked=checked, raw=tuple(_cleared(item, found) for item in found))


def _cleared(item: Finding, findings: Sequence[Finding]) -> Finding:
    groups = finding_rows()[item.code].cleared_by
    if not groups or item.state is not State.REVIEW:
        return item
    passed = {finding.code for finding in findings if finding.state is State.PASS}
    open_groups = [group for group in groups if passed.isdisjoint(group)]
    if open_groups:
        partly = len(open_groups) < len(groups) and f"{State.REVIEW}/{PARTLY}" in finding_rows()[item.code].run
        return replace(item, variant=PARTLY) if partly else item
    return replace(item, state=State.PASS, severity=softened(item.severity, State.PASS), variant="")


def ask_cycle_model(cases: Sequence[Case]) -> list[Case]:
    """The cases with what the cycle model makes of their running readings, all asked at once.

    Doubtful readings are kept from it: what rests on contradicted readings carries no cause.
    """
    inputs = [_question(case) for case in cases]
    verdicts = iter(judge_cycles([one for one in inputs if one is not None]))
    asked = [(one, next(verdicts) if one is not None else None) for one in inputs]
    return [_with_cycle(case, one, verdict) for case, (one, verdict) in zip(cases, asked, strict=True)]


def _question(case: Case) -> CycleInputs | None:
    if not case.profile.asks_cycle:
        return None
    return cycle_inputs(without_doubtful(case))


def without_doubtful(case: Case) -> Visit:
    """The visit without the readings that cannot all be true."""
    return without(case.visit, case.doubtful) if case.doubtful else case.visit


def _with_cycle(case: Case, inputs: CycleInputs | None, verdict: CycleVerdict | None) -> Case:
    if not case.profile.asks_cycle:
        return case
    said = check_cycle(inputs, verdict)
    owed = why_not_told(case.visit, inputs, verdict) if case.profile.explains else Checked()
    return replace(
        case,
        checked=(*case.checked, said, owed),
        findings=(*case.findings, *said.findings, *owed.findings),
        cycle=CycleCase(inputs, verdict, weigh(inputs, verdict)),
    )
