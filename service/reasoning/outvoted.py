"""All running readings together speak of one cause and the case is led by another: the answer names one only."""

from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.case import Case
from service.reasoning.proof import is_likely, is_refuted
from service.results.finding import Finding, State
from service.results.record import replace
from service.verdicts.report import softened

OUTVOTED, REFUTED = "outvoted", "refuted"


def tell_outvoted(case: Case) -> Case:
    """The case with the verdict of all running readings told as what it is beside the cause that leads, or beside
    the test that speaks against it."""
    return replace(case, findings=tuple(_beside(case, item) for item in case.findings))


def _beside(case: Case, item: Finding) -> Finding:
    named = item.values.get("cause")
    row = finding_rows()[item.code]
    if not row.together or item.state not in (State.FAIL, State.REVIEW) or named is None:
        return item
    refuted = any(cause.code == named and is_refuted(case, cause) for cause in case.causes)
    leads = named == case.lead.code
    if not refuted and (leads or not is_likely(case.lead)):
        return item
    state = State.UNDECIDED if item.state is State.FAIL else State.REVIEW
    variant = REFUTED if refuted and state is State.UNDECIDED else OUTVOTED
    return replace(item, state=state, severity=softened(row.severity, state), variant=variant)
