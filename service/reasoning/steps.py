"""Which steps are called for, and by what: holds, findings, proven causes, causes to confirm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from service.knowledge.row_types import matches, of_state
from service.reasoning.case import Case
from service.reasoning.holds import contradicts, owes
from service.reasoning.leak_signs import leak_signs
from service.reasoning.proof import establishes, has_proof, is_likely, is_proven, is_read
from service.results.answer import Cause
from service.results.finding import CONTRADICTED, State

# Variants of a finding that was not judged: nothing follows from it but what put the judging off.
NOT_JUDGED = frozenset({CONTRADICTED, "not-judged"})
HAZARD, REPAIR, PROOF, REST = range(4)


@dataclass(slots=True)
class Wanted:
    """A step that is called for.

    why: codes of what calls for it. rank: of the gravest of them - a hazard, a proven cause or an established
    fault, the proof of the leading cause, the rest.
    """

    why: list[str] = field(default_factory=list)
    rank: int = REST


def wanted_steps(case: Case) -> dict[str, Wanted]:
    """Step codes with what calls for them."""
    wanted: dict[str, Wanted] = {}
    for hold in case.holds:
        _want(wanted, hold_rows()[hold.code].steps, hold.code, HAZARD)
    for finding in case.findings:
        if finding.variant not in NOT_JUDGED:
            steps = of_state(finding_rows()[finding.code].steps, finding, ())
            fault = finding.state is State.FAIL and establishes(case, finding)
            _want(wanted, steps, finding.code, REPAIR if fault else REST)
    if case.profile.works:
        return wanted
    for cause in case.causes:
        if _is_to_confirm(case, cause):
            rank = PROOF if cause is case.lead and is_likely(cause) else REST
            _want(wanted, cause_rows()[cause.code].confirm_by, cause.code, rank)
    if _is_to_be_repaired(case):
        _want(wanted, cause_rows()[case.lead.code].repair, case.lead.code, REPAIR)
    return {code: want for code, want in wanted.items() if _is_called_for(case, code)}


def _want(wanted: dict[str, Wanted], codes: Iterable[str], reason: str, rank: int) -> None:
    for code in codes:
        want = wanted.setdefault(code, Wanted())
        want.rank = min(want.rank, rank)
        if reason not in want.why:
            want.why.append(reason)


def _is_to_confirm(case: Case, cause: Cause) -> bool:
    """A suspicion worth confirming; one that is proven and certain needs none, a compressor always does.

    While a proven cause is to be repaired first, a lesser suspicion waits for the readings after the repair.
    """
    row = cause_rows()[cause.code]
    if cause.probability < limit("reasoning.suspected").value or _waits_for_a_sign(case, cause):
        return False
    certain = cause.probability >= limit("reasoning.certain").value and is_read(cause) and not row.condemns
    if certain and has_proof(case, cause):
        return False
    return cause is case.lead or not _is_to_be_repaired(case)


def _waits_for_a_sign(case: Case, cause: Cause) -> bool:
    """Only its prior speaks for the cause: while readings contradict they are repeated first, and where the gauges
    were on and show no shortage, no leak is searched for without a sign of one.
    """
    if is_read(cause):
        return False
    if contradicts(case.holds):
        return True
    gauged = case.profile.whole and case.visit.running.suction_pressure is not None
    return gauged and cause_rows()[cause.code].needs_a_sign and not leak_signs(case)


def _is_to_be_repaired(case: Case) -> bool:
    """Proven; a repair waits for what may yet clear the part, above all a compressor."""
    lead = case.lead
    row = cause_rows()[lead.code]
    if not is_proven(case, lead) or any(matches(row.waits_for, item) for item in case.findings):
        return False
    return not (contradicts(case.holds) or (row.condemns and owes(case.holds)))


def _is_called_for(case: Case, code: str) -> bool:
    """In a whole visit some steps are taken only while the readings put one of their causes in suspicion."""
    only_for = step_rows()[code].only_for
    if not case.profile.whole or not only_for:
        return True
    least = limit("reasoning.suspected").value
    return any(cause.code in only_for and cause.probability >= least and is_read(cause) for cause in case.causes)
