"""Was it repaired? Both visits judged as wholes, each reading against a sound unit's in its own weather."""

from collections.abc import Iterator

from service.checks.plausible.refusals import refuse_impossible
from service.reasoning.assessment import assess
from service.reasoning.comparison import compare
from service.reasoning.cycle_weighing import ask_cycle
from service.reasoning.expected import expected_computed
from service.reasoning.keeping import owed_to_keep
from service.reasoning.same_unit import unlike
from service.results.answer import Answer
from service.results.comparison import AgainstExpected, ComparisonRequest
from service.results.expected import RangeOf
from service.results.finding import Assumption, Finding, Missing
from service.results.kept_baseline import KeptBaseline
from service.results.quantity import Quantity
from service.results.record import fields, replace
from service.results.refusal import FieldError, Refusal
from service.results.visit import Visit
from service.results.visit.observations import Complaint

DIFFERENCES = {"temperature": "temperature_difference", "pressure": "pressure_difference"}


def judge_comparison(request: ComparisonRequest) -> Answer:
    """The answer about the visit after the repair, with what became of each fault found before it.

    Raises: Refusal for impossible readings, pointing into /before or /after.
    """
    for name in ("before", "after"):
        _refuse(getattr(request, name), f"/{name}")
    before, after = assess(request.before), assess(without_complaint(request.after))
    apart = unlike(request.before, request.after)
    compared = compare(before.findings, after.findings, request.after, after.holds, apart)
    readings = tuple(_against_expected(request.before, request.after))
    proven = compared.computed.repair == "proven"
    owed = owed_to_keep(request.after, "/after") if proven else ()
    return replace(
        after,
        computed=replace(compared.computed, readings=readings),
        findings=(*compared.findings, *(_moved_finding(item) for item in after.findings)),
        next_readings=tuple(replace(item, pointer=f"/after{item.pointer}") for item in after.next_readings),
        assumptions=tuple(_moved_assumption(item) for item in after.assumptions),
        missing=(
            *compared.missing,
            *owed,
            *(Missing(f"/after{item.pointer}", item.allows) for item in after.missing),
        ),
        outcome=None,
        load_list=None,
        baseline_to_keep=KeptBaseline(after.could_keep) if proven and after.could_keep is not None else None,
    )


def without_complaint(visit: Visit) -> Visit:
    """The complaint was about the unit before the repair; it must not speak against the unit after it."""
    return replace(visit, complaint=Complaint())


def _refuse(visit: Visit, prefix: str) -> None:
    try:
        refuse_impossible(visit)
    except Refusal as refusal:
        raise Refusal(tuple(_moved_error(error, prefix) for error in refusal.errors)) from None


def _moved_error(error: FieldError, prefix: str) -> FieldError:
    return replace(error, pointer=prefix + error.pointer)


def _moved_finding(finding: Finding) -> Finding:
    return replace(finding, evidence=tuple(f"/after{pointer}" for pointer in finding.evidence))


def _moved_assumption(assumption: Assumption) -> Assumption:
    return replace(assumption, pointer=f"/after{assumption.pointer}")


def _against_expected(before: Visit, after: Visit) -> Iterator[AgainstExpected]:
    """Readings taken both times, each as its distance from the sound unit in the weather of its own visit."""
    first, last = dict(_distances(before)), dict(_distances(after))
    for pointer, distance in first.items():
        if pointer in last:
            yield AgainstExpected(pointer, distance, last[pointer])


def _distances(visit: Visit) -> Iterator[tuple[str, Quantity]]:
    expected = expected_computed(visit, *ask_cycle(visit)).expected
    for part in ("running", "air"):
        for name, found in _ranges(getattr(expected, part)):
            value = getattr(getattr(visit, part), name, None)
            if value is not None:
                kind = DIFFERENCES.get(found.kind, found.kind)
                yield f"/{part}/{name}", Quantity(value - found.likely, kind, 0.5 * (found.high - found.low))


def _ranges(part: object) -> Iterator[tuple[str, RangeOf]]:
    for item in fields(part):  # type: ignore[arg-type]
        found = getattr(part, item.name)
        if found is not None:
            yield item.name, found
