"""Sentences of the outcome: for the dispatcher, the technician and the customer; codes here, words elsewhere."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reasoning.causes import NONE_FOUND
from service.reasoning.shares import percent
from service.results.answer import Cause, Hold, PartNeeded, Sentence, Step
from service.results.finding import Finding, Severity, State

SPOKEN_STEPS = 3
SPOKEN_FINDINGS = 4
# What the customer would notice if the likeliest cause gets worse; common practice, no source.
SIGNS = {
    "cause.undercharge": "watch.ice",
    "cause.liquid-line-restriction": "watch.ice",
    "cause.metering-underfeeding": "watch.ice",
    "cause.low-indoor-airflow": "watch.ice",
    "cause.indoor-blower-failed": "watch.ice",
    "cause.condensate-overflow": "watch.water",
    "cause.run-capacitor-failed": "watch.hum",
    "cause.start-components-failed": "watch.hum",
    "cause.low-supply-voltage": "watch.hum",
    "cause.outdoor-fan-failed": "watch.fan",
    "cause.fan-capacitor-failed": "watch.fan",
    "cause.outdoor-coil-blocked": "watch.fan",
}


UNIT_UNSAFE = frozenset(
    {"hold.winding-grounded", "hold.terminal-damaged", "hold.breaker-tripping", "hold.pressure-unsafe"}
)


@dataclass(frozen=True, slots=True)
class Notes:
    """summary for the dispatcher, technician and customer notes, and what to watch for."""

    summary: tuple[Sentence, ...]
    technician: tuple[Sentence, ...]
    customer: tuple[Sentence, ...]
    watch_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Decided:
    """What the notes speak of: state, permission and disposition of the outcome, and the parts it needs.

    stands: by the complaint the unit does not start; nobody is told that it may run for now.
    """

    state: str
    permission: str
    disposition: str
    parts: tuple[PartNeeded, ...]
    stands: bool = False


def write_notes(
    decided: Decided,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    steps: Sequence[Step],
) -> Notes:
    """The notes of an outcome; no jargon, blame, promise or price towards the customer."""
    head = (*hold_sentences(holds), *_cause_sentence(decided.state, causes, _failed(findings)))
    parts = tuple(Sentence("note.part", {"part": part.code}) for part in decided.parts)
    return Notes(
        summary=(*head, Sentence(f"summary.{decided.permission}"), *parts),
        technician=(
            *head,
            *(said for said in _finding_sentences(findings) if said not in head),
            *parts,
            *_step_sentences(steps),
        ),
        customer=_customer(decided, holds),
        watch_for=_watch_for(decided, causes),
    )


def hold_sentences(holds: Sequence[Hold]) -> tuple[Sentence, ...]:
    """The holds by their titles."""
    return tuple(Sentence("note.hold", {"hold": hold.code}) for hold in holds)


def _cause_sentence(state: str, causes: Sequence[Cause], failed: Sequence[str]) -> tuple[Sentence, ...]:
    first = causes[0]
    if first.code == NONE_FOUND and failed:
        return (Sentence("note.found", {"finding": failed[0]}), Sentence("note.not-established"))
    if first.code == NONE_FOUND:
        return (Sentence("note.sound" if state == "sound" else "note.nothing-yet"),)
    return (Sentence("note.cause", {"cause": first.code, "percent": percent(first.probability)}),)


def _finding_sentences(findings: Sequence[Finding]) -> tuple[Sentence, ...]:
    return tuple(Sentence("note.found", {"finding": code}) for code in _failed(findings)[:SPOKEN_FINDINGS])


def _failed(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Codes of what failed, gravest first."""
    failed = [item for item in findings if item.state is State.FAIL and item.severity is not Severity.INFO]
    failed.sort(key=lambda item: item.severity is not Severity.CRITICAL)
    return tuple(dict.fromkeys(item.code for item in failed))


def _step_sentences(steps: Sequence[Step]) -> tuple[Sentence, ...]:
    return tuple(Sentence("note.step", {"step": step.code}) for step in steps[:SPOKEN_STEPS])


def _customer(decided: Decided, holds: Sequence[Hold]) -> tuple[Sentence, ...]:
    """What endangers the technician alone (a charge, a live line) is not told to the customer as a bad unit."""
    unsafe = any(hold.code in UNIT_UNSAFE for hold in holds)
    state = "undecided" if decided.state == "unsafe" and not unsafe else decided.state
    permission = () if decided.stands and decided.permission == "may_run_watched" else (decided.permission,)
    return tuple(Sentence(f"customer.{said}") for said in (state, *permission, decided.disposition))


def _watch_for(decided: Decided, causes: Sequence[Cause]) -> tuple[str, ...]:
    if decided.permission == "keep_off":
        return ("watch.keep-off",)
    if decided.state == "sound":
        return ("watch.running",)
    sign = SIGNS.get(causes[0].code)
    return ("watch.running", *((sign,) if sign else ()), "watch.worse")
