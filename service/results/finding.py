"""What a check reports."""

from collections.abc import Mapping
from enum import StrEnum
from typing import ClassVar

from service.results.declare import listed, sent, sent_if_known, words_of
from service.results.quantity import Quantity
from service.results.record import Record, field


class State(StrEnum):
    """How a check came out."""

    PASS = "pass"
    FAIL = "fail"
    REVIEW = "review"
    UNDECIDED = "undecided"
    NOT_APPLICABLE = "not_applicable"


class Severity(StrEnum):
    """How much a finding matters."""

    INFO = "info"
    WARNING = "warning"
    CRITICAL = "critical"


class Confidence(StrEnum):
    """borderline: the limit lies within the uncertainty of what was measured."""

    FIRM = "firm"
    BORDERLINE = "borderline"


class Bounds(Record):
    """A limit as applied; `low`, `high` or both.

    In SI of `kind`. origin: request (the caller's nameplate or table), table (published), default (common practice
    or memory).
    """

    SCHEMA: ClassVar[str] = "Limit"
    kind: str
    origin: str = field(
        metadata=sent("choice", "Where the limit came from.", choices=("request", "table", "default"), last=True)
    )
    source: str = field(metadata=sent("text", "Who says so, or `common practice, no source`.", last=True))
    low: float | None = field(
        default=None, metadata=sent_if_known("number", "Lowest accepted value in `unit`.", said="written")
    )
    high: float | None = field(
        default=None, metadata=sent_if_known("number", "Highest accepted value in `unit`.", said="written")
    )
    unit: ClassVar[str] = field(metadata=sent("text", "Unit code of the limit.", said="unit"))


Value = Quantity | str | int | float

CONTRADICTED = "contradicted"
"""Variant of a finding that rests on a contradicted reading; said the same way whatever its code."""


class Finding(Record):
    """One verdict on what was read.

    values: what the text of this code and state mentions, by placeholder name.
    variant: names the text variant where one code and state can be said in more ways.
    """

    code: str = field(metadata=listed("GET /v1/findings"))
    state: State = field(metadata=sent("choice", "How the check came out.", choices=words_of(State), said="word"))
    severity: Severity = field(
        metadata=sent("choice", "How much it matters.", choices=words_of(Severity), said="word")
    )
    evidence: tuple[str, ...] = field(
        metadata=sent("texts", "JSON Pointers (RFC 6901) into the posted document.", last=True)
    )
    confidence: Confidence = field(
        default=Confidence.FIRM,
        metadata=sent(
            "choice", "How far the limit lies from what was measured.", choices=words_of(Confidence), said="word"
        ),
    )
    title: ClassVar[str] = field(
        metadata=sent(
            "text", "The headline where it failed or is for review, else the check.", said="finding title"
        )
    )
    check: ClassVar[str] = field(metadata=sent("text", "What was checked, as a neutral noun.", said="check"))
    headline: ClassVar[str] = field(metadata=sent("text", "What was found.", said="headline"))
    detail: ClassVar[str] = field(
        metadata=sent("text", "The verdict with its readings and limits, in the caller's units.", said="detail")
    )
    measured: Quantity | None = field(
        default=None, metadata=sent_if_known("object", "What was measured or computed.", part=Quantity)
    )
    limit: Bounds | None = field(
        default=None, metadata=sent_if_known("object", "What it was held against.", part=Bounds)
    )
    values: Mapping[str, Value] = field(default_factory=dict)
    variant: str = ""


class Missing(Record):
    """A reading that is not there, and what it would allow.

    allows: the code of what it would allow (a row of `missing`).
    """

    pointer: str = field(metadata=sent("text", "The member that is missing (JSON Pointer)."))
    allows: str
    would_allow: ClassVar[str] = field(metadata=sent("text", "What it would allow.", said="missing"))


class Assumption(Record):
    """Something taken for granted, and the member that would replace it."""

    code: str = field(metadata=sent("text", "Code of the assumption."))
    pointer: str = field(metadata=sent("text", "The member that would replace it (JSON Pointer)."))
    text: ClassVar[str] = field(metadata=sent("text", "What was taken for granted.", said="assumption"))
    values: Mapping[str, Value] = field(default_factory=dict)
