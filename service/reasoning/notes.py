"""Sentences of the outcome: for the dispatcher, the technician and the customer; codes here, words elsewhere."""

from collections.abc import Sequence

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.reasoning.case import Case
from service.reasoning.circumstances import does_not_start
from service.reasoning.decision import is_read_out
from service.reasoning.holds import contradicts, ending_holds, ends_call
from service.reasoning.proof import binding_holds, faults, is_established, is_likely, is_proven
from service.reasoning.set_aside import failures
from service.reasoning.shares import band, percent
from service.results.answer import Hold, Step
from service.results.finding import Severity
from service.results.planned import Sentence
from service.results.record import Record

SPOKEN_STEPS = 3
SPOKEN_FINDINGS = 4


class Notes(Record):
    """summary for the dispatcher, technician and customer notes, and what to watch for."""

    summary: tuple[Sentence, ...]
    technician: tuple[Sentence, ...]
    customer: tuple[Sentence, ...]
    watch_for: tuple[str, ...]


def write_notes(case: Case, disposition: str) -> Notes:
    """The notes of an outcome; no jargon, blame, promise or price towards the customer."""
    if ends_call(case.holds):
        return _out_of_the_building(case)
    found = _found(case)
    head = (*hold_sentences(case.holds), *_cause_sentence(case, found))
    parts = tuple(Sentence("note.part", {"part": part.code}) for part in case.plan.needed)
    return Notes(
        summary=(*head, Sentence(f"summary.{case.decision.permission}")),
        technician=(
            *head,
            *(said for said in _finding_sentences(found) if said not in head),
            *parts,
            *_step_sentences(case.plan.steps),
        ),
        customer=_customer(case, disposition),
        watch_for=_watch_for(case),
    )


def _out_of_the_building(case: Case) -> Notes:
    """Everybody has to get out: no cause, no part and no other advice beside the way out."""
    holds = hold_sentences(case.holds)
    return Notes(
        summary=(*holds, Sentence(f"summary.{case.decision.permission}")),
        technician=(*holds, *_step_sentences(case.plan.steps)),
        customer=advice_of(case),
        watch_for=(),
    )


def advice_of(case: Case) -> tuple[Sentence, ...]:
    """What the customer is to do about what was reported, gravest first; only the way out where all get out."""
    symptoms = [row for row in symptom_rows().values() if row.advice and row.code in case.visit.complaint.symptoms]
    ending = {finding for hold in ending_holds(case.holds) for finding in hold.raised_by}
    return tuple(Sentence(row.advice) for row in symptoms if not ending or row.finding in ending)


def hold_sentences(holds: Sequence[Hold]) -> tuple[Sentence, ...]:
    """The holds by their titles."""
    return tuple(Sentence("note.hold", {"hold": hold.code}) for hold in holds)


def _cause_sentence(case: Case, found: Sequence[str]) -> tuple[Sentence, ...]:
    lead = case.lead
    if not cause_rows()[lead.code].sound:
        named = Sentence(
            f"cause.{band(lead.probability)}", {"cause": lead.code, "percent": percent(lead.probability)}
        )
        return (named,)
    if found:
        # A fault that stands firm is never followed by a word that none is established.
        said = (Sentence("note.found", {"finding": f"{found[0]}/fail"}),)
        return said if case.decision.state in ("fault", "unsafe") else (*said, Sentence("note.not-established"))
    if case.decision.state == "sound":
        return (Sentence("note.sound"),)
    if is_read_out(case):
        return (Sentence("note.nothing-failed"),)
    # Beside a word to stop or to keep it off nobody reads that nothing was found.
    stops = case.holds or case.decision.permission == "keep_off"
    return (Sentence("note.not-named" if stops else "note.nothing-yet"),)


def _finding_sentences(found: Sequence[str]) -> tuple[Sentence, ...]:
    return tuple(Sentence("note.found", {"finding": f"{code}/fail"}) for code in found[:SPOKEN_FINDINGS])


def _found(case: Case) -> tuple[str, ...]:
    """Codes of what failed: what establishes a fault first, gravest first; contradicted readings found nothing."""
    firm = [item.code for item in faults(case)]
    failed = [
        item.code
        for item in failures(case)
        if item.severity is not Severity.INFO and not finding_rows()[item.code].together
    ]
    return tuple(dict.fromkeys((*firm, *failed)))


def _step_sentences(steps: Sequence[Step]) -> tuple[Sentence, ...]:
    return tuple(Sentence("note.step", {"step": step.code}) for step in steps[:SPOKEN_STEPS])


def _customer(case: Case, disposition: str) -> tuple[Sentence, ...]:
    """What endangers the technician alone (a charge, a live line) is not told to the customer as a bad unit.

    Nothing is claimed that no reading carries, and nobody is told that a unit which does not start may run.
    """
    state, permission = case.decision.state, case.decision.permission
    unsafe = any(hold_rows()[hold.code].endangers_occupants for hold in case.holds)
    said = "undecided" if state == "unsafe" and not unsafe else state
    silent = does_not_start(case.visit) and permission == "may_run_watched"
    permitted = () if silent else (permission,)
    wrong = _what_is_wrong(case, said)
    # Nobody who was told the problem hears that its cause is still looked for.
    next_word = "measuring_again" if wrong[-1].values and disposition == "more_readings" else disposition
    return (*wrong, *(Sentence(f"customer.{word}") for word in (*permitted, next_word)))


def _what_is_wrong(case: Case, said: str) -> tuple[Sentence, ...]:
    """The cause in plain words: found where it is established, else as what it looks like.

    A unit that is unsafe is called so first. Where readings do not name the cause, none is named.
    """
    lead, plainly = case.lead, {"plain": case.lead.code}
    bare = Sentence("customer.nothing-failed" if is_read_out(case) else f"customer.{said}")
    known = is_likely(lead) and (is_established(case, lead) or not case.holds)
    if said == "sound" or not known:
        return (bare,)
    word = "found" if is_proven(case, lead) and not contradicts(binding_holds(case)) else "looks"
    return (*((bare,) if said == "unsafe" else ()), Sentence(f"customer.{word}", plainly))


def _watch_for(case: Case) -> tuple[str, ...]:
    if case.decision.permission == "keep_off":
        return ("watch.keep-off",)
    if case.decision.state == "sound":
        return ("watch.running",)
    sign = cause_rows()[case.lead.code].watch
    return ("watch.running", *((sign,) if sign else ()), "watch.worse")
