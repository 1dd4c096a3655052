"""Does the circuit hold nitrogen? The change of pressure that temperature does not explain."""

from collections.abc import Iterator

from service.knowledge.limits import limit
from service.procedures.accuracy import pressure_accuracy
from service.procedures.pressure_change import Change, measured_change
from service.procedures.pressure_hazards import judge_design_pressure, judge_gas
from service.results.finding import Bounds, Finding, Missing, State, Value
from service.results.procedures.pressure_test import PressureTestComputed, PressureTestRequest
from service.results.quantity import Quantity
from service.results.refusal import FieldError, Refusal
from service.verdicts.judge import below
from service.verdicts.refrigerant_refusals import below_absolute_zero, known_refrigerant
from service.verdicts.report import Checked, report

FLAMMABILITY_ONE = "1"  # last character of an ASHRAE 34 class that does not propagate a flame
PASCAL_PER_MINUTE = 60.0  # Pa/s over Pa/min
LONGEST = 525600.0  # min, a year: the longest time a request can name
MORE = 1.0 / 3.0  # of the shortest test: no sense in reading on for less; project choice


def pressure_test(request: PressureTestRequest) -> Checked:
    """Judge a pressure test.

    Raises: Refusal for a pressure not above absolute zero and for an unknown refrigerant.
    """
    _refuse_impossible(request)
    gas, gas_missing = judge_gas(request)
    design, design_missing = judge_design_pressure(request)
    change = measured_change(request)
    hazard = gas.state is State.FAIL or (design is not None and design.state is State.FAIL)
    result, computed, missing = _result(request, change, hazard)
    findings = [item for item in (gas, design, _target(request), result) if item is not None]
    return Checked(tuple(findings), (*gas_missing, *design_missing, *missing), (), computed)


def _refuse_impossible(request: PressureTestRequest) -> None:
    errors: list[FieldError] = [
        below_absolute_zero(pointer, request.units, request.site_pressure)
        for pointer, value in _pressures(request)
        if value is not None and value <= 0.0
    ]
    if errors:
        raise Refusal(tuple(errors))


def _pressures(request: PressureTestRequest) -> Iterator[tuple[str, float | None]]:
    for name in ("target_pressure", "low_side_design_pressure", "high_side_design_pressure"):
        yield f"/{name}", getattr(request, name)
    for index, sample in enumerate(request.samples):
        yield f"/samples/{index}/pressure", sample.pressure


def _result(
    request: PressureTestRequest, change: Change | None, hazard: bool
) -> tuple[Finding, PressureTestComputed, tuple[Missing, ...]]:
    if change is None:
        finding = report("pressure-test.result", State.UNDECIDED, _samples(request), variant="too-few-readings")
        return finding, PressureTestComputed(result="undecided"), _missing_readings(request)
    result, variant = ("undecided", "not-judged") if hazard else _verdict(request, change)
    waits = variant in ("within-uncertainty", "too-short")
    wait = Quantity(_minutes_to_decide(request, change), "minutes") if waits else None
    return _finding(change, result, variant, wait), _computed(change, result, wait), ()


def _verdict(request: PressureTestRequest, change: Change) -> tuple[str, str]:
    """leaks beyond the decision width; holds when the smallest leak that matters would have shown."""
    if change.change < -change.decision:
        return "leaks", ""
    if change.change > change.decision:
        return "undecided", "rose"
    if change.undecided_band or abs(change.change) > change.uncertainty:
        return "undecided", "within-uncertainty"
    if below(change.minutes, _shortest(request)):
        return "undecided", "too-short"
    return "holds", ""


def _shortest(request: PressureTestRequest) -> float:
    """The shortest test that may be said to hold [min]; an hour where the refrigerant burns."""
    name = request.equipment.refrigerant
    if name is not None:
        refrigerant = known_refrigerant(name, "/equipment/refrigerant")
        if not refrigerant.safety_class.endswith(FLAMMABILITY_ONE):
            return limit("procedures.shortest-pressure-test-flammable").value
    return limit("procedures.shortest-pressure-test").value


def _minutes_to_decide(request: PressureTestRequest, change: Change) -> float:
    """How much longer [min], should the gas go on as it has: until the loss shows, or until none can hide."""
    loss = max(-change.change, 0.0) / change.minutes
    leak_shows = change.decision / loss if loss > 0.0 else float("inf")
    hold_shows = change.decision / (change.smallest_leak - loss) if loss < change.smallest_leak else leak_shows
    shortest = _shortest(request)
    wait = max(min(leak_shows, hold_shows), shortest) - change.minutes
    return min(max(wait, MORE * shortest), LONGEST)


def _finding(change: Change, result: str, variant: str, wait: Quantity | None) -> Finding:
    state = {"holds": State.PASS, "leaks": State.FAIL}.get(result, State.UNDECIDED)
    values: dict[str, Value] = {
        "expected": Quantity(change.expected, "pressure"),
        "duration": Quantity(change.minutes, "minutes"),
        "loss": Quantity(max(-change.change, 0.0), "pressure_difference"),
        "seen": Quantity(change.decision / change.minutes / PASCAL_PER_MINUTE, "pressure_rate"),
    }
    if wait is not None:
        values["wait"] = wait
    width = change.uncertainty
    return report(
        "pressure-test.result",
        state,
        change.evidence,
        measured=Quantity(change.change, "pressure_difference", width),
        limit=Bounds("pressure_difference", "default", "instrument accuracy, 95 %", -width, width),
        values=values,
        variant=variant,
    )


def _computed(change: Change, result: str, wait: Quantity | None) -> PressureTestComputed:
    per_second = change.minutes * PASCAL_PER_MINUTE
    return PressureTestComputed(
        Quantity(change.expected, "pressure", change.expected_uncertainty),
        Quantity(change.change, "pressure_difference", change.uncertainty),
        Quantity(-change.change / per_second, "pressure_rate", change.uncertainty / per_second),
        wait,
        result,
    )


def _samples(request: PressureTestRequest) -> tuple[str, ...]:
    return ("/samples",) if request.samples else ()


def _missing_readings(request: PressureTestRequest) -> tuple[Missing, ...]:
    """What each incomplete sample lacks, or the next sample where there are too few."""
    lacking = [
        Missing(f"/samples/{index}/{name}", "missing.pressure-test-reading")
        for index, sample in enumerate(request.samples)
        for name in ("minutes", "pressure", "temperature")
        if getattr(sample, name) is None
    ]
    return tuple(lacking) or (Missing(f"/samples/{len(request.samples)}", "missing.pressure-test-reading"),)


def _target(request: PressureTestRequest) -> Finding | None:
    """Whether the first reading reached the pressure the test was meant to hold."""
    read = [
        (index, sample.pressure) for index, sample in enumerate(request.samples) if sample.pressure is not None
    ]
    if request.target_pressure is None or not read:
        return None
    index, pressure = read[0]
    gauge = pressure_accuracy(request.instruments)
    low = below(pressure, request.target_pressure - gauge)
    return report(
        "pressure-test.target",
        State.REVIEW if low else State.PASS,
        (f"/samples/{index}/pressure", "/target_pressure"),
        measured=Quantity(pressure, "pressure", gauge),
        limit=Bounds("pressure", "request", "planned test pressure", low=request.target_pressure),
    )
