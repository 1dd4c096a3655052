"""Is the cylinder at hand fit to take the refrigerant: contents, test date, weights."""

from collections.abc import Iterator
from datetime import date

from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.results.finding import Finding, Missing, State
from service.results.procedures.recovery import RecoveryRequest
from service.results.quantity import Quantity
from service.verdicts.refrigerant_refusals import known_refrigerant
from service.verdicts.report import report

# What may stand for the contents instead of a designation.
EMPTY, MIXED, UNKNOWN = "empty", "mixed", "unknown"
Judged = Iterator[Finding | Missing]


def judge_contents(request: RecoveryRequest, refrigerant: Refrigerant | None) -> Judged:
    """Only the same refrigerant, or none, may be in the cylinder.

    Raises: Refusal for contents that are no known refrigerant.
    """
    said = request.cylinder_contents
    if said is None:
        yield report("recovery.cylinder-contents", State.UNDECIDED, (), variant="not-said")
        yield Missing("/cylinder_contents", "missing.recovery-cylinder-contents")
        return
    evidence, word = ("/cylinder_contents",), said.casefold().strip()
    if word == EMPTY:
        yield report("recovery.cylinder-contents", State.PASS, evidence, variant=EMPTY)
    elif word == MIXED:
        yield report("recovery.cylinder-contents", State.FAIL, evidence, variant=MIXED)
    elif word == UNKNOWN:
        yield report("recovery.cylinder-contents", State.UNDECIDED, evidence, variant=UNKNOWN)
    else:
        yield from _same(known_refrigerant(said, "/cylinder_contents"), refrigerant, evidence)


def _same(contents: Refrigerant, refrigerant: Refrigerant | None, evidence: tuple[str, ...]) -> Judged:
    if refrigerant is None:
        yield report("recovery.cylinder-contents", State.UNDECIDED, evidence, variant="no-refrigerant")
        return
    same = contents.designation == refrigerant.designation
    yield report(
        "recovery.cylinder-contents",
        State.PASS if same else State.FAIL,
        evidence,
        values={"contents": contents.designation, "refrigerant": refrigerant.designation},
    )


def judge_test_date(request: RecoveryRequest) -> Judged:
    """A cylinder past its test date takes nothing."""
    if request.cylinder_test_date is None:
        yield report("recovery.cylinder-test-date", State.UNDECIDED, ())
        yield Missing("/cylinder_test_date", "missing.recovery-cylinder-test-date")
        return
    if request.visit_date is None:
        yield report("recovery.cylinder-test-date", State.UNDECIDED, ("/cylinder_test_date",))
        yield Missing("/visit_date", "missing.recovery-visit-date")
        return
    tested, today = date.fromisoformat(request.cylinder_test_date), date.fromisoformat(request.visit_date)
    expires = last_day(tested)
    state, variant = (State.FAIL, "expired") if today > expires else (State.PASS, "")
    if tested > today:
        state, variant = State.UNDECIDED, "in-the-future"
    yield report(
        "recovery.cylinder-test-date",
        state,
        ("/cylinder_test_date", "/visit_date"),
        values={"expires": expires.isoformat()},
        variant=variant,
    )


def last_day(tested: date) -> date:
    """Last day on which a test of that day still holds; one made on 29 February runs to 28 February."""
    year = tested.year + int(limit("procedures.cylinder-test-years").value)
    if year > date.max.year:
        return date.max
    if (tested.month, tested.day) == (2, 29):
        return date(year, 2, 28)
    return tested.replace(year=year)


def judge_weights(request: RecoveryRequest) -> Judged:
    """A cylinder cannot weigh less than empty."""
    if request.gross is None or request.tare is None or request.gross >= request.tare:
        return
    yield report(
        "recovery.weights",
        State.REVIEW,
        ("/gross", "/tare"),
        measured=Quantity(request.gross, "mass"),
        values={"tare": Quantity(request.tare, "mass")},
    )
