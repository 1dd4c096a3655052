"""Sentences of the outcome: for the dispatcher, the technician and the customer; codes here, words elsewhere."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reasoning.causes import NONE_FOUND
from service.results.answer import Cause, Hold, Sentence, Step

SPOKEN_STEPS = 3


@dataclass(frozen=True, slots=True)
class Notes:
    """summary for the dispatcher, technician and customer notes, and what to watch for."""

    summary: tuple[Sentence, ...]
    technician: tuple[Sentence, ...]
    customer: tuple[Sentence, ...]
    watch_for: tuple[str, ...]


def write_notes(
    state: str,
    permission: str,
    disposition: str,
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    steps: Sequence[Step],
) -> Notes:
    """The notes of an outcome; no jargon, blame, promise or price towards the customer."""
    return Notes(
        summary=(*hold_sentences(holds), *_cause_sentence(state, causes), Sentence(f"summary.{permission}")),
        technician=(*hold_sentences(holds), *_cause_sentence(state, causes), *_step_sentences(steps)),
        customer=(Sentence(f"customer.{state}"), Sentence(f"customer.{permission}"), *_next(disposition)),
        watch_for=_watch_for(state, permission),
    )


def hold_sentences(holds: Sequence[Hold]) -> tuple[Sentence, ...]:
    """The holds by their titles."""
    return tuple(Sentence("note.hold", {"hold": hold.code}) for hold in holds)


def _cause_sentence(state: str, causes: Sequence[Cause]) -> tuple[Sentence, ...]:
    first = causes[0]
    if first.code == NONE_FOUND:
        return (Sentence("note.sound" if state == "sound" else "note.nothing-yet"),)
    percent = round(100.0 * first.probability)
    return (Sentence("note.cause", {"cause": first.code, "percent": percent}),)


def _step_sentences(steps: Sequence[Step]) -> tuple[Sentence, ...]:
    return tuple(Sentence("note.step", {"step": step.code}) for step in steps[:SPOKEN_STEPS])


def _next(disposition: str) -> tuple[Sentence, ...]:
    return (Sentence(f"customer.{disposition}"),)


def _watch_for(state: str, permission: str) -> tuple[str, ...]:
    if permission == "keep_off":
        return ("watch.keep-off",)
    return ("watch.running",) if state == "sound" else ("watch.running", "watch.worse")
