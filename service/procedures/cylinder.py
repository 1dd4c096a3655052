"""Is the cylinder at hand fit to take the refrigerant: contents, test date, weights, pressure, flammables."""

from collections.abc import Iterator
from datetime import date

from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.results.finding import Finding, Missing, State
from service.results.out_of_range import OutOfRange
from service.results.procedures.recovery import RecoveryRequest
from service.results.quantity import Quantity
from service.results.units import STANDARD_ATMOSPHERE
from service.verdicts.judge import below
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
    """A cylinder past its test date is not refilled; a due date that is stated goes before the five years."""
    code = "recovery.cylinder-test-date"
    said = tuple(f"/{name}" for name in ("cylinder_test_date", "cylinder_test_due") if getattr(request, name))
    if not said:
        yield report(code, State.UNDECIDED, ())
        yield Missing("/cylinder_test_date", "missing.recovery-cylinder-test-date")
        return
    if request.visit_date is None:
        yield report(code, State.UNDECIDED, said)
        yield Missing("/visit_date", "missing.recovery-visit-date")
        return
    today, expires = date.fromisoformat(request.visit_date), _expires(request)
    state, variant = (State.FAIL, "expired") if today > expires else (State.PASS, "")
    if request.cylinder_test_date is not None and date.fromisoformat(request.cylinder_test_date) > today:
        state, variant = State.UNDECIDED, "in-the-future"
    yield report(code, state, (*said, "/visit_date"), values={"expires": expires.isoformat()}, variant=variant)


def _expires(request: RecoveryRequest) -> date:
    """Last day of the test; one of the two dates is given."""
    if request.cylinder_test_due is not None:
        return date.fromisoformat(request.cylinder_test_due)
    return last_day(date.fromisoformat(request.cylinder_test_date or ""))


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


def judge_service_pressure(request: RecoveryRequest, refrigerant: Refrigerant | None) -> Judged:
    """The refrigerant's pressure in a hot cylinder against the pressure stamped on it."""
    code = "recovery.cylinder-pressure"
    stamped = request.cylinder_service_pressure
    if stamped is None:
        yield report(code, State.UNDECIDED, ())
        yield Missing("/cylinder_service_pressure", "missing.recovery-cylinder-service-pressure")
        return
    evidence = ("/cylinder_service_pressure",)
    if refrigerant is None:
        yield report(code, State.UNDECIDED, evidence, variant="no-refrigerant")
        return
    needed = service_pressure_needed(refrigerant)
    if needed is None:
        yield report(code, State.UNDECIDED, evidence, variant="above-critical")
        return
    allowance = limit("procedures.cylinder-pressure-allowance").value
    enough = not below(stamped - request.site_pressure, needed - allowance)
    yield report(
        code,
        State.PASS if enough else State.FAIL,
        evidence,
        measured=Quantity(stamped, "pressure"),
        limit=limit("procedures.cylinder-hot-pressure-ratio").bounds(
            low=needed + request.site_pressure, kind="pressure"
        ),
        values={"refrigerant": refrigerant.designation},
    )


def service_pressure_needed(refrigerant: Refrigerant) -> float | None:
    """Least service pressure of a cylinder for a refrigerant.

    Returns
    -------
    [Pa] gauge; None where the refrigerant has no liquid at 131 °F (55 °C)

    References
    ----------
    49 CFR 173.301a(d), and the pressures of the table of 173.304a(a)(2) as the least.
    """
    hot = limit("procedures.cylinder-hot-temperature").value
    if hot >= refrigerant.critical_temperature:
        return None
    try:
        saturated = refrigerant.saturation.bubble_pressure(hot) - STANDARD_ATMOSPHERE
    except OutOfRange:
        return None
    by_temperature = saturated / limit("procedures.cylinder-hot-pressure-ratio").value
    if refrigerant.pressure_class == "low":
        return max(by_temperature, 0.0)
    return max(by_temperature, limit("procedures.cylinder-least-service-pressure").value)


def judge_flammable(request: RecoveryRequest, refrigerant: Refrigerant | None) -> Judged:
    """A flammable refrigerant goes into a cylinder and through a valve that are marked for it."""
    if refrigerant is None or refrigerant.lower_flammability_limit is None:
        return
    suitable = request.flammable_suitable
    values = {"refrigerant": refrigerant.designation}
    if suitable is None:
        yield report("recovery.cylinder-flammable", State.UNDECIDED, (), values=values)
        yield Missing("/flammable_suitable", "missing.recovery-flammable-suitable")
        return
    state = State.PASS if suitable else State.FAIL
    yield report("recovery.cylinder-flammable", state, ("/flammable_suitable",), values=values)
