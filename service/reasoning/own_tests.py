"""The test of its own that a likely cause still waits for: often a look of one minute."""

from __future__ import annotations

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from service.reasoning.case import Case
from service.reasoning.proof import contends, is_likely, is_read, is_tested
from service.results.answer import Cause


def own_tests(case: Case) -> frozenset[str]:
    """Readings of the steps that confirm a cause which leads or contends and whose own test was not made."""
    waiting = (cause for cause in case.causes if _waits(case, cause))
    steps = (step_rows()[code] for cause in waiting for code in cause_rows()[cause.code].confirm_by)
    return frozenset(pointer for step in steps for group in step.yields for pointer in group)


def _waits(case: Case, cause: Cause) -> bool:
    """Whether a cause that readings speak for leads or contends while its own test was not made."""
    if cause_rows()[cause.code].sound or not is_read(cause) or is_tested(case, cause):
        return False
    suspected = cause.probability >= limit("reasoning.suspected").value
    return is_likely(cause) or (contends(case, cause) and suspected and not is_likely(case.lead))
