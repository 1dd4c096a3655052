"""The one place where a finding is built."""

from collections.abc import Mapping
from typing import Any

from service.knowledge.catalogues import findings
from service.results.finding import (
    Assumption,
    Bounds,
    Confidence,
    Finding,
    Missing,
    Severity,
    State,
    Value,
)
from service.results.quantity import Quantity
from service.results.record import Record


class Checked(Record):
    """What one check says: findings, what is missing, what was assumed, and its computed members."""

    findings: tuple[Finding, ...] = ()
    missing: tuple[Missing, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    computed: Any = None


def report(
    code: str,
    state: State,
    evidence: tuple[str, ...],
    *,
    measured: Quantity | None = None,
    limit: Bounds | None = None,
    confidence: Confidence = Confidence.FIRM,
    values: Mapping[str, Value] | None = None,
    variant: str = "",
) -> Finding:
    """Build a finding; its severity is the catalogue's, softened where the state is no failure.

    code: of a finding of `knowledge/topics`. evidence: JSON Pointers into the visit document. values: what the
    locale text mentions. Raises: KeyError when the catalogue does not know the code.
    """
    severity = softened(findings()[code].severity, state)
    return Finding(code, state, severity, evidence, confidence, measured, limit, values or {}, variant)


def softened(worst: Severity, state: State) -> Severity:
    """The severity of a state: the catalogue's for a failure, at most a warning for a doubt, else information."""
    if state is State.FAIL:
        return worst
    if state in (State.REVIEW, State.UNDECIDED) and worst is not Severity.INFO:
        return Severity.WARNING
    return Severity.INFO
