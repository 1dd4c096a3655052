"""Before anybody is sent: what to ask, what to load, who to send, how long it takes, and what to tell the
customer.
"""

from __future__ import annotations

from collections.abc import Sequence

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.people import people_rows
from service.reasoning.case import Case
from service.reasoning.holds import ends_call
from service.reasoning.loading import load_for, load_of
from service.reasoning.notes import advice_of, hold_sentences
from service.reasoning.questions import questions_worth_asking
from service.reasoning.shares import percent
from service.results.answer import Cause
from service.results.planned import Sentence
from service.results.record import replace
from service.results.visit.observations import Complaint

NAMED = 3


def prepare(case: Case) -> Case:
    """The case with what to load; where nobody is there yet, no part is needed before it was read."""
    if case.outcome is None:
        return case
    if not case.profile.prepares:
        return replace(case, plan=replace(case.plan, load_list=load_for(case)))
    prepared = load_of(case)
    outcome = replace(
        case.outcome,
        disposition="more_readings",
        parts=(),
        certificates=prepared.certificates,
        minutes=prepared.minutes,
        return_minutes=None,
        tools=prepared.load.tools,
        refrigerant=prepared.load.refrigerant,
        summary=_summary(case),
        customer_note=_customer_note(case),
    )
    questions = questions_worth_asking(case)
    plan = replace(case.plan, questions=questions, load_list=prepared.load)
    return replace(case, outcome=outcome, plan=plan)


def _summary(case: Case) -> tuple[Sentence, ...]:
    """For the dispatcher: holds, what the caller said, the likeliest causes, and whether it may run."""
    return (
        *hold_sentences(case.holds),
        *(Sentence("note.caller-said", {"symptom": symptom}) for symptom in case.visit.complaint.symptoms),
        *_told(case.visit.complaint),
        *_suspected(case),
        Sentence(f"summary.{case.decision.permission}"),
    )


def _suspected(case: Case) -> tuple[Sentence, ...]:
    """What is likely before anything is read; nothing where it is no call for whoever would be sent."""
    if ends_call(case.holds):
        return ()
    return (Sentence("note.before-reading"), *(_likely(cause) for cause in _faults(case.causes)[:NAMED]))


def _told(complaint: Complaint) -> tuple[Sentence, ...]:
    """What the caller said beside the symptoms, in the caller's words."""
    code = complaint.fault_code
    people = tuple(
        Sentence("note.caller-people", {"person": word}) for word in complaint.people_at_risk if word != "none"
    )
    return (*((Sentence("note.caller-code", {"code": code}),) if code else ()), *people)


def _faults(causes: Sequence[Cause]) -> list[Cause]:
    return [cause for cause in causes if not cause_rows()[cause.code].sound]


def _likely(cause: Cause) -> Sentence:
    return Sentence("note.likely", {"cause": cause.code, "percent": percent(cause.probability)})


def _customer_note(case: Case) -> tuple[Sentence, ...]:
    """For the customer: what to do until somebody comes; no cause is named, because none has been read."""
    complaint = case.visit.complaint
    advice, said = advice_of(case), [Sentence("customer.intake")]
    if ends_call(case.holds):
        return advice
    if not advice:
        said.append(Sentence(f"customer.{case.decision.permission}"))
    there = [row for row in people_rows().values() if row.code in complaint.people_at_risk]
    told = dict.fromkeys(code for row in there for code in row.advice)
    return (*said, *advice, *(Sentence(code) for code in told))
