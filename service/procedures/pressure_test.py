"""Does the circuit hold nitrogen? The change of pressure that temperature does not explain."""

from collections.abc import Iterator

from service.knowledge.limits import limit
from service.physics.series import QUANTILE
from service.procedures.accuracy import COVERAGE, pressure_accuracy
from service.procedures.pressure_change import Change, measured_change
from service.procedures.pressure_hazards import judge_design_pressure, judge_gas
from service.procedures.rests_on import rests_on
from service.results.finding import Bounds, Finding, Missing, State, Value
from service.results.procedures.pressure_test import PressureTestComputed, PressureTestRequest
from service.results.quantity import Quantity
from service.results.refusal import FieldError, Refusal
from service.verdicts.judge import above, below
from service.verdicts.refrigerant_refusals import below_absolute_zero, known_refrigerant
from service.verdicts.report import Checked, report

PASCAL_PER_MINUTE = 60.0  # Pa/s over Pa/min
WAITS = ("within-uncertainty", "too-short", "settling", "moved")
GONE_FROM = 5.0  # times the gauge's accuracy: a test pressure that can be told from none; project choice
HALVINGS = 20
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
    barred = _barred(gas, design)
    result, computed, missing = _result(request, change, barred)
    findings = [item for item in (gas, design, _target(request), *result) if item is not None]
    return Checked(tuple(findings), (*gas_missing, *design_missing, *missing), (), computed)


def _barred(gas: Finding, design: Finding | None) -> str:
    """Why nothing may be said to hold: the test is not safe itself, or nobody has named the gas inside."""
    if gas.state is State.FAIL or (design is not None and design.state is State.FAIL):
        return "not-judged"
    return "gas-not-named" if gas.state is State.UNDECIDED else ""


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
    request: PressureTestRequest, change: Change | None, barred: str
) -> tuple[tuple[Finding, ...], PressureTestComputed, tuple[Missing, ...]]:
    if change is None:
        finding = report("pressure-test.result", State.UNDECIDED, _samples(request), variant="too-few-readings")
        return (finding,), PressureTestComputed(result="undecided"), _missing_readings(request)
    shortest = _shortest(request)
    result, variant = _verdict(request, change, shortest)
    if barred == "not-judged" or (barred and result == "holds"):
        result, variant = "undecided", barred
    wait = Quantity(_minutes_to_decide(change, shortest), "minutes") if variant in WAITS else None
    missing = _missing_resolution(request) if variant in ("settling", "within-uncertainty") else ()
    findings = (_finding(change, result, variant, wait), *_seen(change, result))
    return findings, _computed(request, change, result, wait), missing


def _verdict(request: PressureTestRequest, change: Change, shortest: float) -> tuple[str, str]:
    """leaks where gas is surely lost; holds when the smallest leak that matters would have shown."""
    if _all_gone(request, change):
        return "leaks", "all-gone"
    if change.leaks:
        return "leaks", ""
    if _holds(change, shortest):
        return "holds", ""
    return "undecided", _why_undecided(change)


def _holds(change: Change, shortest: float) -> bool:
    seen = change.sees_smallest_leak and not below(change.minutes, shortest)
    return seen and not (change.lost or change.rose)


def _why_undecided(change: Change) -> str:
    falls = change.steady.rate + QUANTILE * change.steady.deviation < 0.0
    reasons = (
        ("rose", change.rose),
        ("settling", change.lost),
        ("moved", any(seen.what != "stray" for seen in change.stretch.seen)),
        ("too-short", change.sees_smallest_leak),
        ("settling", falls),
    )
    return next((variant for variant, applies in reasons if applies), "within-uncertainty")


def _all_gone(request: PressureTestRequest, change: Change) -> bool:
    """Whether a gauge that showed a test pressure now shows none: such readings are flat again."""
    accuracy = pressure_accuracy(request.instruments)
    highest = max(sample.pressure for sample in request.samples if sample.pressure is not None)
    return below(change.last - request.site_pressure, accuracy) and above(
        highest - request.site_pressure, GONE_FROM * accuracy
    )


def _shortest(request: PressureTestRequest) -> float:
    """The shortest test that may be said to hold [min]; an hour where the refrigerant burns."""
    name = request.equipment.refrigerant
    if name is not None:
        refrigerant = known_refrigerant(name, "/equipment/refrigerant")
        if refrigerant.is_flammable:
            return limit("procedures.shortest-pressure-test-flammable").value
    return limit("procedures.shortest-pressure-test").value


def _minutes_to_decide(change: Change, shortest: float) -> float:
    """How much longer [min], should the gas go on as it has: until one more reading decides."""

    def decided(wait: float) -> bool:
        longer = change.one_more(wait)
        return longer.leaks or _holds(longer, shortest)

    low, high = 0.0, MORE * shortest
    while high < LONGEST and not decided(high):
        low, high = high, high * 2.0
    for _ in range(HALVINGS if low > 0.0 else 0):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if decided(middle) else (middle, high)
    return min(high, LONGEST)


def _finding(change: Change, result: str, variant: str, wait: Quantity | None) -> Finding:
    state = {"holds": State.PASS, "leaks": State.FAIL}.get(result, State.UNDECIDED)
    values: dict[str, Value] = {
        "expected": Quantity(change.expected, "pressure"),
        "duration": Quantity(change.minutes, "minutes"),
        "loss": Quantity(max(-change.change, 0.0), "pressure_difference"),
        "rate": Quantity(max(-change.steady.rate, 0.0) / PASCAL_PER_MINUTE, "pressure_rate"),
        "seen": Quantity(max(-change.steady.low, 0.0) / PASCAL_PER_MINUTE, "pressure_rate"),
    }
    if wait is not None:
        values["wait"] = wait
    width = change.uncertainty
    return report(
        "pressure-test.result",
        state,
        _pointers(change),
        measured=Quantity(change.change, "pressure_difference", width),
        limit=Bounds("pressure_difference", "default", "one gauge against itself, 95 %", -width, width),
        values=values,
        variant=variant,
    )


def _seen(change: Change, result: str) -> tuple[Finding, ...]:
    """What the readings show beside a steady change: each step, gap or stray reading, and settling."""
    found = [
        report(
            "pressure-test.series",
            State.REVIEW,
            tuple(f"/samples/{place}/pressure" for place in seen.evidence),
            measured=Quantity(seen.after - seen.before, "pressure_difference"),
            values={
                "size": Quantity(abs(seen.after - seen.before), "pressure_difference"),
                "start": Quantity(seen.start, "minutes"),
                "end": Quantity(seen.end, "minutes"),
            },
            variant=seen.what,
        )
        for seen in change.stretch.seen
    ]
    if result != "leaks" and change.steady.settled > COVERAGE * float(change.stretch.deviations[0]):
        settled = Quantity(change.steady.settled, "pressure_difference")
        evidence = _pointers(change)
        found.append(
            report("pressure-test.series", State.PASS, evidence, measured=settled, values={"size": settled})
        )
    return tuple(found)


def _pointers(change: Change) -> tuple[str, ...]:
    return tuple(
        f"/samples/{change.stretch.places[end]}/{name}"
        for end in (0, -1)
        for name in ("minutes", "pressure", "temperature")
    )


def _computed(
    request: PressureTestRequest, change: Change, result: str, wait: Quantity | None
) -> PressureTestComputed:
    steady = change.steady
    return PressureTestComputed(
        Quantity(change.expected, "pressure", change.expected_uncertainty),
        Quantity(change.change, "pressure_difference", change.uncertainty),
        Quantity(
            -steady.rate / PASCAL_PER_MINUTE, "pressure_rate", COVERAGE * steady.deviation / PASCAL_PER_MINUTE
        ),
        wait,
        result,
        rests_on(request, "pressure-test", _pointers(change)) if result == "holds" else (),
    )


def _missing_resolution(request: PressureTestRequest) -> tuple[Missing, ...]:
    if request.instruments.pressure_resolution is not None:
        return ()
    return (Missing("/instruments/pressure_resolution", "missing.pressure-resolution"),)


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
