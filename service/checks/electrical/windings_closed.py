"""Three numbers of a single-phase compressor: terminals, sum rule, dead shorts, labels."""

from service.checks.electrical.meters import combined, ohm_error
from service.checks.electrical.winding_pairs import (
    ClosedPair,
    Pair,
    apart,
    closed,
    identify,
    is_named,
    pointers,
)
from service.checks.electrical.windings_short import dead_shorts
from service.knowledge.limits import limit
from service.results.computed import WindingsComputed
from service.results.finding import Bounds, Confidence, Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

CONTINUOUS = ("windings.run-winding-open", "windings.start-winding-open", "windings.common-open")


def check_closed(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    """Judge pairs that all gave a number.

    Source: Heating and Cooling Essentials (Goodheart-Willcox, 2022), section 25.8 (sum rule, order of readings).
    """
    numbers = closed(pairs)
    shorted = dead_shorts(visit, numbers)
    if len(numbers) < 3:
        return Checked(shorted, computed=_partial(visit, numbers))
    computed = _computed(visit, numbers)
    if _all_equal(numbers):
        return Checked(_inconsistent("equal", numbers), computed=WindingsComputed())
    if shorted:
        return Checked(shorted, computed=computed)
    if below(_difference(numbers), -_allowance(numbers)):
        return Checked(_inconsistent("series", numbers), computed=computed)
    findings = _continuous(numbers) + _labels(visit, numbers) + _sum_rule(visit, numbers)
    return Checked(findings, computed=computed)


def is_single_phase_set(numbers: tuple[ClosedPair, ...]) -> bool:
    """True when three unnamed numbers can only be run, start and their sum."""
    return not above(abs(_difference(numbers)), _allowance(numbers))


def _partial(visit: Visit, numbers: tuple[ClosedPair, ...]) -> WindingsComputed:
    """With both legs from a named common, the sum says what run to start should read."""
    names = [pair.name for pair in numbers]
    if sorted(names) != ["common_run", "common_start"]:
        return WindingsComputed()
    return WindingsComputed(sum_ohms=_sum(visit, numbers[0], numbers[1]))


def _computed(visit: Visit, numbers: tuple[ClosedPair, ...]) -> WindingsComputed:
    terminals = identify(visit, numbers)
    return WindingsComputed(
        common=terminals.common,
        run=terminals.run,
        start=terminals.start,
        sum_ohms=_sum(visit, numbers[0], numbers[1]),
        sum_difference_ohms=Quantity(_difference(numbers), "ohms", _difference_error(visit, numbers)),
    )


def _sum(visit: Visit, first: ClosedPair, second: ClosedPair) -> Quantity:
    error = combined(ohm_error(visit, first.ohms), ohm_error(visit, second.ohms))
    return Quantity(first.ohms + second.ohms, "ohms", error)


def _difference(numbers: tuple[ClosedPair, ...]) -> float:
    return numbers[0].ohms + numbers[1].ohms - numbers[2].ohms


def _difference_error(visit: Visit, numbers: tuple[ClosedPair, ...]) -> float:
    return combined(*(ohm_error(visit, pair.ohms) for pair in numbers))


def _allowance(numbers: tuple[ClosedPair, ...]) -> float:
    share = limit("windings.sum-allowance-percent").value / 100.0
    return max(share * numbers[2].ohms, limit("windings.sum-allowance").value)


def _all_equal(numbers: tuple[ClosedPair, ...]) -> bool:
    """Three readings alike: a wye or delta, never run, start and their sum (G6)."""
    spread = numbers[2].ohms - numbers[0].ohms
    share = limit("windings.phase-unbalance-percent").value / 100.0
    alike = max(share * numbers[2].ohms, limit("instruments.ohm-resolution").value)
    return not above(spread, alike) and above(_difference(numbers), _allowance(numbers))


def _inconsistent(variant: str, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    return (report("windings.readings-inconsistent", State.UNDECIDED, pointers(numbers), variant=variant),)


def _continuous(numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """All three pairs are closed, whatever they are called: nothing is open (W01)."""
    return tuple(report(code, State.PASS, pointers(numbers)) for code in CONTINUOUS)


def _labels(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """Do the names fit the numbers? Highest pair run to start, lower leg to run (W15, W16)."""
    low, middle, high = numbers
    if not is_named(numbers):
        told = identify(visit, numbers).run is not None
        state = State.PASS if told else State.UNDECIDED
        return (report("windings.terminals-identified", state, pointers(numbers)),)
    if high.name != "run_start" and apart(visit, _of(numbers, "run_start"), high):
        return (report("windings.terminals-mislabeled", State.UNDECIDED, pointers(numbers)),)
    if low.name == "common_start" and middle.name == "common_run" and apart(visit, low, middle):
        return (report("windings.run-and-start-swapped", State.REVIEW, pointers(numbers)),)
    return (report("windings.terminals-mislabeled", State.PASS, pointers(numbers)),)


def _of(numbers: tuple[ClosedPair, ...], name: str) -> ClosedPair:
    return next(pair for pair in numbers if pair.name == name)


def _sum_rule(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """The highest pair is the sum of the other two (W01, W08, W09); it never clears shorted turns."""
    difference, allowed = _difference(numbers), _allowance(numbers)
    error = _difference_error(visit, numbers)
    state, variant = State.PASS, ""
    sure = confidence(difference, error, low=-allowed, high=allowed)
    if above(difference, allowed):
        wires_off = visit.inspection.wires_off_terminals is True
        state = State.FAIL if wires_off and sure is Confidence.FIRM else State.REVIEW
        variant = "" if wires_off else "parallel-path"
    elif above(difference, error):
        state, variant = State.REVIEW, "leads"
    return (
        report(
            "windings.sum-rule",
            state,
            pointers(numbers),
            measured=Quantity(difference, "ohms", error),
            limit=_applied(allowed),
            confidence=sure,
            variant=variant,
        ),
    )


def _applied(allowed: float) -> Bounds:
    return limit("windings.sum-allowance").bounds(low=-allowed, high=allowed)
