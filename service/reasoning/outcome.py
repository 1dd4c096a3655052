"""What the dispatcher is told: a pure function of the case.

State and permission are decided in `decision.py`; here follow what was found, what is needed, how soon, how long,
and the notes.
"""

from collections.abc import Sequence

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import parts as part_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.crew import people_for
from service.knowledge.limits import limit
from service.knowledge.row_types import matches, of_state
from service.reasoning.booking import booked
from service.reasoning.case import Case
from service.reasoning.causes import speaks
from service.reasoning.decision import is_read_out
from service.reasoning.loading import planned_tools, refrigerant_of
from service.reasoning.notes import write_notes
from service.reasoning.proof import faults, is_proven
from service.reasoning.repair import is_to_be_repaired
from service.reasoning.replacement import replacement_reasons
from service.reasoning.urgency import how_urgent
from service.results.answer import Step
from service.results.finding import Finding
from service.results.outcome import Found, Outcome
from service.results.planned import Minutes
from service.results.record import replace

COMES_AGAIN = ("parts_needed", "return_visit", "replacement_quote")


def conclude(case: Case) -> Case:
    """The case with its outcome; only a whole visit gets one."""
    if not case.profile.whole:
        return case
    condemned = any(part_rows()[part.code].compressor for part in case.plan.needed)
    replacement = replacement_reasons(case) if condemned else ()
    disposition = _disposition(case, bool(replacement))
    urgency, reason = how_urgent(case)
    here, later = by_visit(case.plan.steps, disposition)
    notes = write_notes(case, disposition)
    certificates = tuple(dict.fromkeys(code for step in case.plan.steps for code in step.certificates))
    times = (_minutes(here), _minutes(later) if later else None)
    crew = people_for([part.code for part in case.plan.needed], case.visit.site.equipment_location)
    refrigerant = refrigerant_of(case)
    again = booked(case, urgency, times, certificates, crew, refrigerant) if disposition != "complete" else ()
    outcome = Outcome(
        state=case.decision.state,
        run_permission=case.decision.permission,
        disposition=disposition,
        urgency=urgency,
        urgency_reason=reason,
        lead_cause=case.lead.code,
        found=tuple(_found(case, item) for item in faults(case)),
        parts=case.plan.needed,
        take_along=case.plan.take_along,
        certificates=certificates,
        minutes=times[0],
        return_minutes=times[1],
        tools=planned_tools(case),
        crew=crew,
        refrigerant=refrigerant,
        summary=(*notes.summary, *again),
        customer_note=notes.customer,
        technician_note=notes.technician,
        watch_for=notes.watch_for,
        replacement=replacement,
    )
    return replace(case, outcome=outcome)


def _found(case: Case, item: Finding) -> Found:
    """One established fault: whether it explains the complaint, and whether a part or an adjustment mends it."""
    least = limit("reasoning.suspected").value
    said = speaks(item)
    explains = any(said.get(cause.code, 0.0) > 0.0 and cause.probability >= least for cause in case.causes)
    parts = tuple(part.code for part in case.plan.needed if matches(part_rows()[part.code].condemned_by, item))
    return Found(item.code, explains, parts, "part" if parts else _corrected_by(case, item))


def _corrected_by(case: Case, item: Finding) -> str:
    """What corrects a fault that condemns no part itself: a step of its own, or the repair of the cause that it
    proves; empty where that is not known yet."""
    if any(step_rows()[code].adjusts for code in of_state(finding_rows()[item.code].steps, item, ())):
        return "adjustment"
    lead = cause_rows()[case.lead.code]
    if not is_to_be_repaired(case) or speaks(item).get(lead.code, 0.0) <= 0.0:
        return ""
    if any(part.code in lead.parts for part in case.plan.needed):
        return "part"
    return "adjustment" if any(step_rows()[code].adjusts for code in lead.repair) else ""


def by_visit(steps: tuple[Step, ...], disposition: str) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """The steps of this visit and of the next one.

    Where somebody must come again, the work that needs a part or opens the circuit waits, and so does all that
    comes after it in the order of the work.
    """
    if disposition not in COMES_AGAIN:
        return steps, ()
    waits = (place for place, step in enumerate(steps) if step.parts or step_rows()[step.code].opens_circuit)
    first = next(waits, len(steps))
    return steps[:first], steps[first:]


def _minutes(steps: Sequence[Step]) -> Minutes:
    bare = limit("reasoning.bare-visit-minutes").value
    if not steps:
        return Minutes(bare, bare)
    return Minutes(sum(step.minutes.low for step in steps), sum(step.minutes.high for step in steps))


def _disposition(case: Case, replaces: bool) -> str:
    if case.decision.state == "sound" or (is_read_out(case) and not (case.plan.steps or case.plan.readings)):
        return "complete"
    if replaces:
        return "replacement_quote"
    if case.plan.needed:
        return "parts_needed"
    long = limit("reasoning.long-work-minutes").value
    if is_proven(case, case.lead) and any(step.minutes.low >= long for step in case.plan.steps):
        return "return_visit"
    return "more_readings"
