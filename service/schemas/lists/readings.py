"""The catalogue of readings, and the questions of a call: what a form needs to ask for each."""

from __future__ import annotations

from service.results.declare import growing, sent, sent_if_known
from service.results.provenance import Provenance
from service.results.record import Record, field
from service.schemas.lists.codes import GAVE, NamedRow

ANSWERS = {
    "boolean": "yes_no",
    "integer": "whole_number",
    "choice": "choice",
    "choices": "choices",
    "text": "text",
    "label": "choice",
    "place": "text",
    "date": "date",
    "date_time": "date_time",
    "resistance": "resistance",
    "resistance_or_number": "resistance",
    "insulation": "insulation",
    "numbers": "numbers",
    "parts": "list",
}
"""Kind of a declared member -> kind of answer; any other is a number."""
NUMBER = "number"
KINDS_OF_ANSWER = (NUMBER, *dict.fromkeys(ANSWERS.values()))


class ReadingRange(Record):
    """A range in one unit."""

    unit: str = field(metadata=sent("text", "Unit code."))
    low: float | None = field(
        default=None,
        metadata=sent_if_known(
            "number", "Lowest value that is accepted; a pressure must lie above absolute zero."
        ),
    )
    high: float | None = field(default=None, metadata=sent_if_known("number", "Highest value that is accepted."))


class ReadingWord(Record):
    """A word of a closed list."""

    word: str = field(
        metadata=sent("text", "The word to post; where the answer is a whole number, the number that it names.")
    )
    title: str = field(metadata=sent("text", "What it means."))


class ReadingRow(Record, kw_only=True):
    """A member of the visit document, with what a form needs to ask for it."""

    pointer: str = field(
        metadata=sent("text", "JSON Pointer (RFC 6901) into the visit document; 0 stands for any place of a list.")
    )
    part: str = field(metadata=sent("text", "The part of the document that it belongs to."))
    label: str = field(metadata=sent("text", "What it is."))
    instruction: str = field(metadata=sent("text", "What to do to take it."))
    answer: str = field(metadata=growing("Kind of answer.", *KINDS_OF_ANSWER))
    quantity: str | None = field(
        default=None, metadata=sent_if_known("text", "Kind of quantity, where the answer is one.")
    )
    unit_chosen_by: str | None = field(
        default=None,
        metadata=sent_if_known(
            "text", "The member of `units` that chooses the unit; absent where the unit never changes."
        ),
    )
    ranges: tuple[ReadingRange, ...] = field(
        default=(),
        metadata=sent_if_known(
            "parts",
            "What is accepted, in each unit that can be chosen; gauge pressures at sea level.",
            part=ReadingRange,
        ),
    )
    words: tuple[ReadingWord, ...] = field(
        default=(),
        metadata=sent_if_known("parts", "What may be posted, where the list is closed.", part=ReadingWord),
    )
    maximum_length: int | None = field(
        default=None,
        metadata=sent_if_known("integer", "Most characters, numbers or items.", low=1, high=1000),
    )
    power: str = field(
        metadata=sent("choice", "Power at the unit while it is taken.", choices=("off", "on", "either")),
    )
    minutes: float = field(metadata=sent("number", "How long it typically takes."))
    asked: bool = field(metadata=sent("boolean", "It is asked or looked up rather than measured."))
    instrument: str | None = field(
        default=None, metadata=sent_if_known("text", "Code of GET /v1/tools, where an instrument is needed.")
    )
    findings: tuple[str, ...] = field(default=(), metadata=sent("texts", "Codes of the findings that rest on it."))


class ReadingList(Record):
    """Every member of the visit document."""

    readings: tuple[ReadingRow, ...] = field(
        metadata=sent("parts", "Every member of the visit document.", part=ReadingRow)
    )
    provenance: Provenance = field(metadata=GAVE)


class QuestionPatch(Record):
    """One operation of a JSON Patch (RFC 6902) on the visit document."""

    op: str = field(metadata=sent("choice", "What is done.", choices=("add",)))
    path: str = field(
        metadata=sent("text", "JSON Pointer; objects and lists on the way that are not there yet are made first.")
    )
    value: object = field(metadata=sent("said", "What is put there."))


class QuestionAnswer(Record):
    """What may be answered, and what that puts into the visit document."""

    word: str = field(metadata=sent("text", "yes, no, or a word of the choice."))
    title: str | None = field(default=None, metadata=sent_if_known("text", "What the word means."))
    patches: tuple[QuestionPatch, ...] = field(
        default=(),
        metadata=sent("parts", "Operations in order; empty where the answer changes nothing.", part=QuestionPatch),
    )


class QuestionRow(NamedRow):
    """A question."""

    why: str = field(metadata=sent("text", "What the answer is good for."))
    safety: bool = field(metadata=sent("boolean", "It is asked in any case, because the answer may mean danger."))
    pointer: str = field(
        metadata=sent("text", "JSON Pointer (RFC 6901) into the visit document: where the answer goes.")
    )
    answer: str = field(metadata=growing("Kind of answer.", *KINDS_OF_ANSWER))
    answers: tuple[QuestionAnswer, ...] = field(
        metadata=sent(
            "parts",
            "What may be answered; empty where the answer is a text or a number for the pointer.",
            part=QuestionAnswer,
        )
    )


class QuestionList(Record):
    """Every question that the intake may ask."""

    questions: tuple[QuestionRow, ...] = field(
        metadata=sent("parts", "Every question that the intake may ask.", part=QuestionRow)
    )
    provenance: Provenance = field(metadata=GAVE)
