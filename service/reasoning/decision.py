"""State and permission of a case: what the dispatcher may book, and whether the unit may run.

State:
- unsafe: a hold of the unsafe kind stands, or 50 V and more was read where dead was claimed.
- fault: a firm failed check on readings that nothing contradicts names a cause or a step, or the cycle model,
  having judged the readings that nothing contradicts, names the leading cause. Reviews, priors and complaints
  alone are undecided; what the cycle model has weighed establishes no fault against it; a cause that the test made
  for it speaks against is undecided too, and one whose own test was not made needs a greater share.
- sound: no fault leads, every check that the complaint calls for passed, and nothing is doubtful or contradicts; a
  check that the cycle model has weighed may stay open where the model, with the full set read, finds no fault
  likely enough and no reading that it still offers is well worth its minutes. Its share then is at least the one
  from which the model alone would say so (`passed.py`).
- undecided: anything else.

Permission: the strictest of may_run < may_run_watched < unknown < keep_off that anything asks for. Nothing read
that tells is unknown; a reported danger keeps off without a reading.
"""

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import sound
from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.complaint_checks import CheckGroup, checks_called_for
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.knowledge.told import in_states
from service.reasoning.askable import askable
from service.reasoning.at_unit import rests_on_readings
from service.reasoning.case import Case, Decision
from service.reasoning.causes import is_weighed
from service.reasoning.gained import NOTHING, gained_from_cycle
from service.reasoning.holds import contradicts, keeps_off
from service.reasoning.motors import standing
from service.reasoning.proof import binds_a_verdict, faults, is_likely, is_refuted, names, suffices
from service.reasoning.set_aside import is_contradiction, is_disagreement
from service.results.finding import CONTRADICTED, Finding, Severity, State
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.kept import kept

OPEN = (State.FAIL, State.REVIEW, State.UNDECIDED)
FAILED = (State.FAIL, State.REVIEW)
TOLD = (State.PASS, State.FAIL, State.REVIEW)
PERMISSIONS = ("may_run", "may_run_watched", "unknown", "keep_off")


def decide(case: Case) -> Case:
    """The case with its state and permission."""
    state = _state(case)
    stopped = keeps_off(case.holds) or state == "unsafe"
    stands = bool(standing(case)) and state != "sound"
    harm = _harm(case)
    off = stopped or "no" in harm or _advised_off(case)
    brief = stands or "test" in harm
    permission = max(
        _of_state(case, state),
        "may_run_watched" if "watch" in harm else "may_run",
        "keep_off" if off or brief else "may_run",
        key=PERMISSIONS.index,
    )
    return replace(case, decision=Decision(state, permission, off or case.profile.works, brief))


def _state(case: Case) -> str:
    if is_unsafe(case):
        return "unsafe"
    if faults(case):
        return "fault"
    lead = case.lead
    held = any(binds_a_verdict(case, hold) for hold in case.holds)
    named = is_likely(lead) and names(case, lead) and suffices(case, lead)
    if named and not held and not is_refuted(case, lead):
        return "fault"
    if case.holds or lead.code != sound().code or not _all_passed(case) or _doubtful(case):
        return "undecided"
    return "sound"


def is_unsafe(case: Case) -> bool:
    """A hold of the unsafe kind, or voltage where dead was claimed."""
    return bool(in_states(case.raw, "unsafe")) or any(hold_rows()[hold.code].unsafe for hold in case.holds)


def _all_passed(case: Case) -> bool:
    passed = {item.code for item in case.findings if item.state is State.PASS}
    called = _called_for(case.visit)
    return all(_is_answered(case, group, passed) for group in called)


def _called_for(visit: Visit) -> tuple[CheckGroup, ...]:
    """The checks that must be answered, by readings that this kind of unit has."""
    called, kind = checks_called_for(visit.complaint.symptoms), kind_row(visit.equipment.kind)
    if not kind.lacks:
        return called
    return tuple(replace(one, or_weighed=tuple(filter(kind.has_reading, one.or_weighed))) for one in called)


def _is_answered(case: Case, group: CheckGroup, passed: set[str]) -> bool:
    if not passed.isdisjoint(group.passed):
        return True
    return bool(group.or_weighed) and model_finds_sound(case) and case.read.issuperset(group.or_weighed)


def awaited_for_sound(case: Case) -> frozenset[str]:
    """Readings without which the unit is not called sound, though no fault leads and the model has judged."""
    if case.cycle.weighing is None or case.lead.code != sound().code:
        return frozenset()
    passed = {item.code for item in case.findings if item.state is State.PASS}
    called = _called_for(case.visit)
    open_groups = [group for group in called if passed.isdisjoint(group.passed)]
    wanted = {pointer for group in open_groups for pointer in group.or_weighed}
    return frozenset(wanted.difference(case.read)) or (well_worth_reading(case) if open_groups else frozenset())


def is_read_out(case: Case) -> bool:
    """Whether nobody complains, all that a sound unit is told by was read, and nothing failed or is doubtful.

    What the mode leaves unjudged (the charge of a unit that heats) stays so: other readings would change nothing.
    """
    if case.visit.complaint.symptoms or case.holds or case.unsettled or case.cycle.weighing is not None:
        return False
    enough = case.lead.code == sound().code and case.lead.probability >= limit("reasoning.sound-share").value
    wanted = {pointer for group in _called_for(case.visit) for pointer in group.or_weighed}
    told = any(_tells_more(item) for item in case.findings)
    return enough and bool(wanted) and case.read.issuperset(wanted) and not told


def _tells_more(item: Finding) -> bool:
    """Whether a check failed or is doubtful, or all running readings together were asked and name nothing."""
    return finding_rows()[item.code].together or (item.state in FAILED and item.severity is not Severity.INFO)


def model_finds_sound(case: Case) -> bool:
    """Whether the cycle model has judged, no fault is likely enough to call the unit sound, and no reading that is
    still open is well worth its minutes."""
    judged = case.cycle.weighing is not None and not contradicts(case.holds)
    lead = case.lead
    enough = lead.code == sound().code and lead.probability >= limit("reasoning.sound-share").value
    return judged and enough and not well_worth_reading(case)


@kept
def well_worth_reading(case: Case) -> frozenset[str]:
    """Readings that the cycle model knows and the unit can have, and that may well change whether it is sound."""
    least = limit("reasoning.worth-before-sound").value
    gained = gained_from_cycle(case.cycle.verdict, case.causes)
    found = (
        asked.first_absent(case.visit)
        for asked in askable()
        if gained.get(asked.row.code, NOTHING).worth >= least * asked.row.minutes and asked.is_of(case.visit)
    )
    return frozenset(pointer for pointer in found if pointer is not None)


def _doubtful(case: Case) -> bool:
    """Two readings that disagree within their accuracy leave no doubt about the unit, nor does what was only
    reported; what the cycle model has weighed leaves none where it finds the unit sound.
    """
    weighing = case.cycle.weighing if model_finds_sound(case) else None
    doubts = (item for item in case.findings if item.state in OPEN and item.severity is not Severity.INFO)
    return any(not (_is_no_doubt(case, item) or is_weighed(item, weighing)) for item in doubts)


def _is_no_doubt(case: Case, item: Finding) -> bool:
    """Readings that agree within their accuracy, what was only reported, and a model that names no fault."""
    review = item.state is State.REVIEW
    names_none = finding_rows()[item.code].together and cause_rows()[case.lead.code].sound
    agrees = is_disagreement(item) and not is_contradiction(item)
    return (review and (names_none or agrees)) or not rests_on_readings(item)


def tells(case: Case) -> bool:
    """Whether anything read says how the unit is."""
    return any(item.state in TOLD and rests_on_readings(item) for item in case.findings)


def _of_state(case: Case, state: str) -> str:
    if state == "sound":
        return "may_run"
    return "may_run_watched" if tells(case) else "unknown"


def _harm(case: Case) -> frozenset[str]:
    """What the findings say of running on; what rests on contradicted readings says nothing of the unit, but a
    danger that one of them shows stays until they are read again.
    """
    rows = ((item, finding_rows()[item.code]) for item in case.findings)
    return frozenset(
        row.running_on(item)
        for item, row in rows
        if item.variant != CONTRADICTED or row.severity is Severity.CRITICAL
    )


def _advised_off(case: Case) -> bool:
    """Before anything tells, what the customer was advised to leave off stays off."""
    if tells(case) and not case.profile.prepares:
        return False
    return any(symptom_rows()[symptom].advice for symptom in case.visit.complaint.symptoms)
