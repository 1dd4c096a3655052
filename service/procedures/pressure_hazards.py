"""What must not be in the circuit, or not at that pressure: test gas and design pressure."""

from collections.abc import Iterator

from service.knowledge.procedure_tables import pressure_test_gas
from service.procedures.accuracy import pressure_accuracy
from service.results.finding import Bounds, Finding, Missing, State
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.quantity import Quantity
from service.verdicts.judge import above, confidence
from service.verdicts.report import report

Reading = tuple[str, float]


def judge_gas(request: PressureTestRequest) -> tuple[Finding, tuple[Missing, ...]]:
    """Only nitrogen or the non-flammable tracer mix may be in the circuit."""
    if request.gas is None:
        finding = report("pressure-test.gas", State.UNDECIDED, ())
        return finding, (Missing("/gas", "missing.pressure-test-gas"),)
    gas = pressure_test_gas(request.gas)
    evidence, named = ("/gas",), {"gas": request.gas}
    if gas is not None and gas.accepted:
        return report("pressure-test.gas", State.PASS, evidence, values=named), ()
    variant = "explosive" if gas is not None and gas.explosive else "other"
    return report("pressure-test.gas", State.FAIL, evidence, values=named, variant=variant), ()


def judge_design_pressure(request: PressureTestRequest) -> tuple[Finding | None, tuple[Missing, ...]]:
    """No test pressure, read or planned, above the nameplate's design pressure of what is under test."""
    tried = list(_test_pressures(request))
    if not tried:
        return None, ()
    pointer, highest = max(tried, key=lambda reading: reading[1])
    measured = Quantity(highest, "pressure", pressure_accuracy(request.instruments))
    ceiling, wanted = _ceiling(request)
    missing = tuple(Missing(name, "missing.pressure-test-design-pressure") for name in wanted)
    if ceiling is None:
        undecided = report("pressure-test.above-design", State.UNDECIDED, (pointer,), measured=measured)
        return undecided, missing
    exceeded = above(highest, ceiling[1])
    state = State.FAIL if exceeded else State.UNDECIDED if missing else State.PASS
    finding = report(
        "pressure-test.above-design",
        state,
        (pointer, ceiling[0]),
        measured=measured,
        limit=Bounds("pressure", "request", "nameplate design pressure", high=ceiling[1]),
        confidence=confidence(highest, pressure_accuracy(request.instruments), high=ceiling[1]),
    )
    return finding, missing


def _test_pressures(request: PressureTestRequest) -> Iterator[Reading]:
    if request.target_pressure is not None:
        yield "/target_pressure", request.target_pressure
    for index, sample in enumerate(request.samples):
        if sample.pressure is not None:
            yield f"/samples/{index}/pressure", sample.pressure


def _ceiling(request: PressureTestRequest) -> tuple[Reading | None, tuple[str, ...]]:
    """The lowest design pressure known of what is under test, and what is wanting to be sure.

    The two sides are one space while the whole circuit is under test, so the weaker side sets the limit.
    """
    sides = {"low": ("low",), "high": ("high",)}.get(request.tested_side or "whole", ("low", "high"))
    known = {side: _design_pressure(request, f"{side}_side_design_pressure") for side in sides}
    found = [reading for reading in known.values() if reading is not None]
    wanting = () if known[sides[0]] is not None else (f"/{sides[0]}_side_design_pressure",)
    return min(found, key=lambda reading: reading[1], default=None), wanting


def _design_pressure(request: PressureTestRequest, name: str) -> Reading | None:
    for pointer, holder in ((f"/{name}", request), (f"/equipment/{name}", request.equipment)):
        value: float | None = getattr(holder, name)
        if value is not None:
            return pointer, value
    return None
