"""The outcome of a visit: what the dispatcher books with."""

from __future__ import annotations

from typing import ClassVar

from service.results.declare import sent, sent_if_known
from service.results.planned import Minutes, PartNeeded, RefrigerantLoad, Sentence, Tool
from service.results.record import Record, field


class Found(Record):
    """An established fault.

    finding: its code; corrected_by: part, adjustment, or empty where only more readings tell.
    """

    finding: str = field(metadata=sent("text", "Code of the finding."))
    title: ClassVar[str] = field(metadata=sent("text", "What was found.", said="found"))
    explains_complaint: bool = field(
        metadata=sent("boolean", "Whether it explains the complaint, or is a defect beside it.")
    )
    parts: tuple[str, ...] = field(metadata=sent("texts", "Codes of the needed parts that it condemns."))
    corrected_by: str = field(
        default="",
        metadata=sent_if_known(
            "choice", "What corrects it; absent where more readings must tell.", choices=("part", "adjustment")
        ),
    )


class Outcome(Record):
    """What the dispatcher needs to know: a pure function of the findings; unsafe wins."""

    state: str = field(metadata=sent("choice", "Verdict.", choices=("sound", "fault", "undecided", "unsafe")))
    run_permission: str = field(
        metadata=sent(
            "choice", "Whether the unit may run.", choices=("may_run", "may_run_watched", "unknown", "keep_off")
        )
    )
    disposition: str = field(
        metadata=sent(
            "choice",
            "What becomes of the visit.",
            choices=("complete", "more_readings", "parts_needed", "return_visit", "replacement_quote"),
        )
    )
    urgency: str = field(
        metadata=sent(
            "choice", "How soon somebody must be there.", choices=("now", "same_day", "next_day", "scheduled")
        )
    )
    urgency_reason: str = field(metadata=sent("text", "Why.", said="sentence"))
    lead_cause: str = field(metadata=sent("text", "Code of the likeliest cause."))
    found: tuple[Found, ...] = field(
        metadata=sent(
            "parts",
            "Faults that a failed check establishes, most serious first. Empty in a `fault` that only readings "
            "together name: see `lead_cause`.",
            part=Found,
        )
    )
    parts: tuple[PartNeeded, ...] = field(
        metadata=sent("parts", "Parts that are needed, each proven.", part=PartNeeded)
    )
    take_along: tuple[PartNeeded, ...] = field(
        metadata=sent("parts", "Parts for a suspicion that is not proven yet.", part=PartNeeded)
    )
    certificates: tuple[str, ...] = field(
        metadata=sent("texts", "Codes of the certificates that the work asks for.")
    )
    minutes: Minutes = field(metadata=sent("object", "How long the steps of this visit take.", part=Minutes))
    return_minutes: Minutes | None = field(
        metadata=sent_if_known(
            "object", "How long the work takes that waits for a part or a longer visit.", part=Minutes
        )
    )
    tools: tuple[str, ...] = field(metadata=sent("coded", "Tools of the planned steps.", part=Tool))
    crew: int = field(metadata=sent("integer", "People to send.", low=1, high=4))
    refrigerant: RefrigerantLoad = field(metadata=sent("object", "Refrigerant work.", part=RefrigerantLoad))
    summary: tuple[Sentence, ...] = field(default=(), metadata=sent("text", "For the office.", said="sentences"))
    customer_note: tuple[Sentence, ...] = field(
        default=(), metadata=sent("text", "For the customer, in plain words.", said="sentences")
    )
    technician_note: tuple[Sentence, ...] = field(
        default=(), metadata=sent("text", "For the technician.", said="sentences")
    )
    watch_for: tuple[str, ...] = field(
        default=(), metadata=sent("texts", "What to watch after the visit.", said="sentence list")
    )
    replacement: tuple[Sentence, ...] = field(
        default=(), metadata=sent_if_known("text", "Why a replacement is worth a quote.", said="sentences")
    )
