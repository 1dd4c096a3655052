"""What the dispatcher is told: a pure function of findings, holds, causes and steps.

- unsafe: a hold of the unsafe kind stands, or 50 V and more was read where dead was claimed.
- fault: a check failed firmly on readings that nothing contradicts, or the leading cause is established by what
  was read and no hold asks to read again. A check within its instruments' uncertainty establishes no fault alone,
  nor does one of the running and air readings while all of them together look like a sound unit, or like a fault
  too small to name. A leading cause that the test made for it speaks against is undecided too: a correct charge by
  the published method is neither under- nor overcharge.
- sound: every check that the complaint calls for passed, and nothing failed, is doubtful or contradicts.
- undecided: anything else.
Unsafe wins over fault, fault over undecided, undecided over sound.
"""

from collections.abc import Sequence

from service.checks.plausible.readings import is_disagreement
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.complaint_checks import checks_called_for
from service.reasoning.causes import NONE_FOUND
from service.reasoning.circumstances import does_not_start
from service.reasoning.contradicted import failures
from service.reasoning.holds import keeps_off
from service.reasoning.notes import Decided, write_notes
from service.reasoning.replacement import replacement_reasons
from service.reasoning.reported_danger import danger_reported
from service.reasoning.standstill import stands_still
from service.reasoning.steps import ESTABLISHED, is_refuted
from service.reasoning.urgency import how_urgent
from service.results.answer import Cause, Hold, Minutes, Outcome, PartNeeded, Step
from service.results.cycle import CycleLoss
from service.results.finding import CONTRADICTED, Confidence, Finding, Severity, State
from service.results.visit import Visit

COMPRESSOR = "part.compressor"
VOLTAGE_PRESENT = "isolation.voltage-present"
OPEN = (State.FAIL, State.REVIEW, State.UNDECIDED)
# Readings that the causes weigh together; site and nameplate are what they are weighed with.
TOGETHER = ("/running/", "/air/", "/site/", "/equipment/", "/instruments/")
TOGETHER_CODE = "cycle.like-a-sound-unit"
TRAVEL_FREE_VISIT = 15.0  # minutes of a visit that reads nothing yet; common practice, no source


def decide(
    visit: Visit,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    steps: Sequence[Step],
    loss: CycleLoss | None = None,
    *,
    state: str | None = None,
) -> Outcome:
    """The outcome of a visit; loss: what the fault costs, where the running readings tell. state: where known."""
    state = state or outcome_state(visit, findings, holds, causes)
    permission = _permission(visit, state, findings, holds)
    parts = needed_parts(steps)
    condemned = any(part.code == COMPRESSOR for part in parts)
    replacement = replacement_reasons(visit, causes, state, loss) if condemned else ()
    disposition = _disposition(state, parts, _fault_established(causes, findings), bool(replacement), steps)
    urgency, reason = how_urgent(visit, state, permission, findings)
    decided = Decided(state, permission, disposition, parts, does_not_start(visit))
    notes = write_notes(decided, findings, holds, causes, steps)
    return Outcome(
        state=state,
        run_permission=permission,
        disposition=disposition,
        urgency=urgency,
        urgency_reason=reason,
        parts=parts,
        certificates=_certificates(steps),
        minutes=_minutes(steps),
        summary=notes.summary,
        customer_note=notes.customer,
        technician_note=notes.technician,
        watch_for=notes.watch_for,
        replacement=replacement,
    )


def outcome_state(
    visit: Visit, findings: Sequence[Finding], holds: Sequence[Hold], causes: Sequence[Cause]
) -> str:
    """sound | fault | undecided | unsafe, see the head of this file."""
    if is_unsafe(findings, holds):
        return "unsafe"
    none_named = causes[0].code == NONE_FOUND or _too_small_to_name(findings)
    if any(_tells(item, none_named) for item in failures(findings)):
        return "fault"
    if not holds and _fault_established(causes, findings):
        return "fault"
    if holds or _is_likely(causes[0]) or not _all_passed(visit, findings) or _doubtful(findings):
        return "undecided"
    return "sound"


def is_unsafe(findings: Sequence[Finding], holds: Sequence[Hold]) -> bool:
    """A hold of the unsafe kind, or voltage where dead was claimed."""
    live = any(item.code == VOLTAGE_PRESENT and item.state is State.FAIL for item in findings)
    return live or any(hold_rows()[hold.code].unsafe for hold in holds)


def _too_small_to_name(findings: Sequence[Finding]) -> bool:
    """The running readings together are as likely a sound unit's."""
    return any(item.code == TOGETHER_CODE and item.state is State.REVIEW for item in findings)


def _tells(failed: Finding, together_sound: bool) -> bool:
    """Whether a failed check establishes a fault by itself; together_sound: all running readings name none."""
    if failed.severity is Severity.CRITICAL:
        return True
    outvoted = together_sound and all(at.startswith(TOGETHER) for at in failed.evidence)
    counts = failed.severity is not Severity.INFO and failed.confidence is Confidence.FIRM
    return counts and not outvoted


def _doubtful(findings: Sequence[Finding]) -> bool:
    """Two readings that disagree within their accuracy leave no doubt about the unit."""
    doubts = (item for item in findings if item.state in OPEN and item.severity is not Severity.INFO)
    return any(not (is_disagreement(item) and item.state is State.REVIEW) for item in doubts)


def _fault_established(causes: Sequence[Cause], findings: Sequence[Finding]) -> bool:
    return _is_likely(causes[0]) and not is_refuted(causes[0], findings)


def _is_likely(first: Cause) -> bool:
    return first.code != NONE_FOUND and first.probability >= ESTABLISHED and bool(first.supported_by)


def _all_passed(visit: Visit, findings: Sequence[Finding]) -> bool:
    passed = {item.code for item in findings if item.state is State.PASS}
    return not any(passed.isdisjoint(group) for group in checks_called_for(visit.complaint.symptoms))


def must_stay_off(
    visit: Visit,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    *,
    state: str | None = None,
) -> bool:
    """True where no step and no reading may ask for power.

    The outcome also says keep_off for a motor that stands still (`standstill.py`), with power for a test only.

    state: of the outcome, where known already.
    """
    state = state or outcome_state(visit, findings, holds, causes)
    return run_permission(state, findings, holds, reported=danger_reported(visit, findings)) == "keep_off"


def _permission(visit: Visit, state: str, findings: Sequence[Finding], holds: Sequence[Hold]) -> str:
    if state != "sound" and stands_still(visit, findings):
        return "keep_off"
    return run_permission(state, findings, holds, reported=danger_reported(visit, findings))


def run_permission(
    state: str, findings: Sequence[Finding], holds: Sequence[Hold], *, reported: bool = False
) -> str:
    """may_run only for a sound unit; keep_off for every hold but a contradiction and for critical failures.

    Also where running on does harm: no outdoor fan, an iced coil, liquid coming back.

    reported: a danger that the customer reports and nothing read has cleared; it keeps the unit off as well.
    """
    if state == "unsafe" or reported or keeps_off(holds):
        return "keep_off"
    if any(item.state is State.FAIL and item.severity is Severity.CRITICAL for item in findings):
        return "keep_off"
    if any(_running_harms(item, state) for item in findings):
        return "keep_off"
    return "may_run" if state == "sound" else "may_run_watched"


def _running_harms(item: Finding, outcome: str) -> bool:
    """Whether a finding says that the unit must not be left running, though nothing can hurt a person.

    What rests on contradicted readings says nothing of the unit.
    """
    keeps_off = finding_rows()[item.code].keeps_off
    return item.variant != CONTRADICTED and outcome in keeps_off.get(item.state, ())


def needed_parts(steps: Sequence[Step]) -> tuple[PartNeeded, ...]:
    """Parts of the planned steps, each once."""
    return tuple({part.code: part for step in steps for part in step.parts}.values())


def _certificates(steps: Sequence[Step]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(code for step in steps for code in step.certificates))


def _minutes(steps: Sequence[Step]) -> Minutes:
    if not steps:
        return Minutes(TRAVEL_FREE_VISIT, TRAVEL_FREE_VISIT)
    return Minutes(sum(step.minutes.low for step in steps), sum(step.minutes.high for step in steps))


def _disposition(
    state: str, parts: Sequence[PartNeeded], established: bool, replace: bool, steps: Sequence[Step]
) -> str:
    if state == "sound":
        return "complete"
    if replace:
        return "replacement_quote"
    if parts:
        return "parts_needed"
    if established and any(step.minutes.low >= 60.0 for step in steps):
        return "return_visit"
    return "more_readings"
