"""What a check reports."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from service.results.quantity import Quantity


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


@dataclass(frozen=True, slots=True)
class Bounds:
    """A limit as applied: low and/or high in SI of `kind`, where it came from and who says so.

    origin: request (the caller's nameplate or table), table (published), default (common practice or memory).
    """

    kind: str
    origin: str
    source: str
    low: float | None = None
    high: float | None = None


Value = Quantity | str | int | float

CONTRADICTED = "contradicted"
"""Variant of a finding that rests on a contradicted reading; said the same way whatever its code."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One verdict: code, state, what was measured against what, and the readings it rests on (JSON Pointers).

    values: what the text of this code and state mentions, by placeholder name.
    variant: names the text variant where one code and state can be said in more ways.
    """

    code: str
    state: State
    severity: Severity
    evidence: tuple[str, ...]
    confidence: Confidence = Confidence.FIRM
    measured: Quantity | None = None
    limit: Bounds | None = None
    values: Mapping[str, Value] = field(default_factory=dict)
    variant: str = ""


@dataclass(frozen=True, slots=True)
class Missing:
    """A reading that is not there, and the code of what it would allow (text in the locale files)."""

    pointer: str
    allows: str


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something taken for granted: code (text in the locale files) and the member that would replace it."""

    code: str
    pointer: str
    values: Mapping[str, Value] = field(default_factory=dict)
