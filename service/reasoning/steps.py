"""Which steps are called for, and by what: holds, findings, proven causes, causes to confirm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from service.knowledge.row_types import matching
from service.knowledge.told import told
from service.reasoning.case import Case
from service.reasoning.causes import is_weighed
from service.reasoning.holds import contradicts, ending_holds
from service.reasoning.leak_signs import leak_signs
from service.reasoning.proof import contends, establishes, has_proof, is_likely, is_proven, is_read, names
from service.reasoning.repair import is_to_be_repaired
from service.reasoning.set_aside import rests_on_doubtful
from service.results.answer import Cause
from service.results.finding import CONTRADICTED, Finding, State

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
    """Step codes with what calls for them; where everybody has to get out, only the way out."""
    wanted: dict[str, Wanted] = {}
    ending = ending_holds(case.holds)
    for hold in ending or case.holds:
        _want(wanted, hold_rows()[hold.code].steps, hold.code, HAZARD)
    if ending:
        return wanted
    for finding, steps in told(case.findings, "steps"):
        if finding.variant not in NOT_JUDGED and not rests_on_doubtful(case, finding):
            _want(wanted, steps, finding.code, _rank_of_finding(case, finding))
    if case.profile.works:
        return wanted
    for cause in case.causes:
        if _is_to_confirm(case, cause):
            rank = _rank_of_proof(case, cause)
            _want(wanted, cause_rows()[cause.code].confirm_by, cause.code, rank)
    if is_to_be_repaired(case):
        _want(wanted, cause_rows()[case.lead.code].repair, case.lead.code, REPAIR)
        explained = _explained(case)
        wanted = {code: want for code, want in wanted.items() if not _can_wait(case, code, want, explained)}
    wanted = {code: want for code, want in wanted.items() if _is_called_for(case, code)}
    return _with_instead(case, wanted)


def _rank_of_finding(case: Case, finding: Finding) -> int:
    """An established fault comes first. So does what a proven repair rests on or would bury: a leak is looked for
    before the circuit is opened and charged, and the test that condemns a compressor is repeated. What makes the
    readings void is undone first: nobody cleans a coil that is closed with ice.
    """
    if finding.state is State.FAIL and establishes(case, finding):
        return REPAIR
    lead = cause_rows()[case.lead.code]
    leaks = not frozenset(leak_signs(case)).isdisjoint(finding.evidence)
    condemns = lead.condemns and finding.code in lead.proof
    if (leaks or condemns) and is_to_be_repaired(case):
        return REPAIR
    return REPAIR if told([finding], "voids") else REST


def _can_wait(case: Case, code: str, want: Wanted, explained: frozenset[str]) -> bool:
    """What only a suspected cause, or a reading that all of them together explain, asks for waits for the readings
    after a proven repair; nobody tests an opened circuit for what its old charge showed.

    A compressor's own confirmation does not wait: it is read once more whatever was read.
    """
    lead = cause_rows()[case.lead.code]
    if code in lead.repair or (lead.condemns and code in lead.confirm_by):
        return False
    return all(reason in cause_rows() or reason in explained for reason in want.why)


def _explained(case: Case) -> frozenset[str]:
    """Findings of the running readings that the proven cause explains with all the others, and that do no harm;
    what proves it keeps its own steps.
    """
    if not names(case, case.lead):
        return frozenset()
    weighed = (item for item in case.findings if is_weighed(item, case.cycle.weighing))
    harmless = (item for item in weighed if not finding_rows()[item.code].running_on(item))
    proof = cause_rows()[case.lead.code].proof
    return frozenset(item.code for item in harmless if not (item.code in proof or establishes(case, item)))


def _with_instead(case: Case, wanted: dict[str, Wanted]) -> dict[str, Wanted]:
    """Steps that give way to another one while a finding stands: a line set gets its charge, no leak is
    searched."""
    swapped: dict[str, str] = {}
    for _, other_steps in told(case.findings, "instead"):
        swapped |= other_steps
    if not swapped or leak_signs(case):
        return wanted
    found: dict[str, Wanted] = {}
    for code, want in wanted.items():
        other = found.setdefault(swapped.get(code, code), Wanted(list(want.why), want.rank))
        other.why = list(dict.fromkeys((*other.why, *want.why)))
        other.rank = min(other.rank, want.rank)
    return found


def _rank_of_proof(case: Case, cause: Cause) -> int:
    """The proof of the leading cause comes before the rest, and while none is likely that of each that contends
    with it: it settles the visit. A compressor is read once more first.
    """
    if is_likely(case.lead):
        if cause is not case.lead:
            return REST
        return REPAIR if cause_rows()[cause.code].condemns else PROOF
    return PROOF if contends(case, cause) else REST


def _want(wanted: dict[str, Wanted], codes: Iterable[str], reason: str, rank: int) -> None:
    for code in codes:
        want = wanted.setdefault(code, Wanted())
        want.rank = min(want.rank, rank)
        if reason not in want.why:
            want.why.append(reason)


def _is_to_confirm(case: Case, cause: Cause) -> bool:
    """A suspicion worth confirming; one that is proven and certain needs none, a compressor always does.

    Where a failed check puts its repair off, that check's own step comes first, and what it mends is read again.
    While a proven cause is to be repaired first, a lesser suspicion waits for the readings after the repair.
    """
    row = cause_rows()[cause.code]
    if cause.probability < limit("reasoning.suspected").value or _waits_for_a_sign(case, cause):
        return False
    if any(item.state is State.FAIL for item in matching(row.waits_for, case.findings)):
        return False
    certain = cause.probability >= limit("reasoning.certain").value and is_read(cause) and has_proof(case, cause)
    if not row.condemns and (certain or is_proven(case, cause)):
        return False
    return cause is case.lead or not is_to_be_repaired(case)


def _waits_for_a_sign(case: Case, cause: Cause) -> bool:
    """Whether a suspicion waits: for readings that contradict or have not settled, for a call where only its prior
    speaks, and a search for a leak for a sign of one.
    """
    row = cause_rows()[cause.code]
    if is_likely(cause) or (row.needs_a_sign and leak_signs(case)):
        return False
    if case.unsettled or contradicts(case.holds):
        return True
    if not is_read(cause) and (case.asked.outdoor_may_stand or case.asked.blower_may_stand):
        return True
    return case.profile.whole and row.needs_a_sign


def _is_called_for(case: Case, code: str) -> bool:
    """Some steps wait for another finding's repair; in a whole visit some are taken only for a suspected cause."""
    only_for = step_rows()[code].only_for
    if matching(step_rows()[code].waits_while, case.findings):
        return False
    if not case.profile.whole or not only_for:
        return True
    least = limit("reasoning.suspected").value
    return any(cause.code in only_for and cause.probability >= least and is_read(cause) for cause in case.causes)
