"""Three-phase and inverter compressors: three readings alike."""

from service.checks.electrical.meters import combined, ohm_error
from service.checks.electrical.shell import COLD, HOT, overload_open, shell_pointers, shell_state
from service.checks.electrical.winding_pairs import ClosedPair, Pair, closed, cut_off_terminal, opened, pointers
from service.checks.electrical.windings_short import dead_shorts
from service.knowledge.limits import limit
from service.physics.supply import unbalance_percent
from service.results.computed import WindingsComputed
from service.results.finding import Bounds, Confidence, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

NOTHING = WindingsComputed()


def check_three_phase(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    """Judge three windings in wye or delta: open leads, a dead short, unlike readings.

    Source: Heating and Cooling Essentials (Goodheart-Willcox, 2022), section 25.7; ANSI/EASA AR100 for the
    published 2 % of a low-ohm meter; 5 % for a field meter is common practice.
    """
    if opened(pairs):
        return _open(visit, pairs)
    numbers = closed(pairs)
    if len(numbers) < 3:
        return Checked(computed=NOTHING)
    passed = report("windings.phase-open", State.PASS, pointers(pairs))
    found = _dead_shorts(visit, numbers) or _equality(visit, numbers)
    return Checked((passed, *found), computed=_computed(visit, numbers))


def _open(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    """T02, T03, T04; a single open pair beside two closed ones cannot be (G7)."""
    if len(closed(pairs)) == 2:
        finding = report("windings.readings-inconsistent", State.UNDECIDED, pointers(pairs), variant="one-open")
        return Checked((finding,), computed=NOTHING)
    terminal = cut_off_terminal(pairs)
    if terminal is not None:
        return _lead_open(visit, pairs, terminal)
    if len(opened(pairs)) < 3:
        finding = report("windings.all-open", State.UNDECIDED, pointers(pairs), variant="not-enough")
        return Checked((finding,), computed=NOTHING)
    return _star_open(visit, pairs)


def _lead_open(visit: Visit, pairs: tuple[Pair, ...], terminal: str) -> Checked:
    evidence = pointers(pairs) + shell_pointers(visit)
    if shell_state(visit) == HOT:
        return _overload(evidence, "hot")
    state, variant = State.FAIL, ""
    if len(opened(pairs)) < 2:
        state, variant = State.UNDECIDED, "one-pair-owed"
    elif visit.electrical.windings.read_at == "lead_ends":
        state, variant = State.UNDECIDED, "lead-ends"
    finding = report("windings.phase-open", state, evidence, variant=variant, values={"terminal": terminal})
    return Checked((finding,), computed=NOTHING)


def _star_open(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    """All three open: the protector in the star point, unless the shell is cold."""
    evidence, state = pointers(pairs) + shell_pointers(visit), shell_state(visit)
    if state == HOT:
        return _overload(evidence, "hot")
    if state != COLD:
        asked = (Missing("/inspection/shell_temperature", "windings.shell-temperature"),)
        return Checked(_overload(evidence, "not-known").findings, asked, computed=NOTHING)
    at_leads = visit.electrical.windings.read_at == "lead_ends"
    finding = report(
        "windings.star-open",
        State.UNDECIDED if at_leads else State.FAIL,
        evidence,
        variant="lead-ends" if at_leads else "",
    )
    return Checked((finding,), computed=NOTHING)


def _overload(evidence: tuple[str, ...], variant: str) -> Checked:
    return Checked((overload_open(evidence, variant),), computed=NOTHING)


def _dead_shorts(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """A short beside a pair that clearly is none; three near 0.0 only need a better meter."""
    return dead_shorts(visit, numbers) if above(numbers[2].ohms, _allowance(numbers)) else ()


def _mean(numbers: tuple[ClosedPair, ...]) -> float:
    return sum(pair.ohms for pair in numbers) / len(numbers)


def _allowance(numbers: tuple[ClosedPair, ...]) -> float:
    share = limit("windings.phase-unbalance-percent").value / 100.0
    return max(share * _mean(numbers), limit("windings.phase-unbalance").value)


def _equality(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """T01, T05; below 1 ohm an ordinary meter cannot see 5 %, so it can only say that nothing is far off."""
    mean, allowed = _mean(numbers), _allowance(numbers)
    worst = max(numbers, key=lambda pair: abs(pair.ohms - mean))
    deviation = abs(worst.ohms - mean)
    error = combined(*(ohm_error(visit, pair.ohms) for pair in numbers)) / len(numbers) ** 0.5
    sure = confidence(deviation, error, high=allowed)
    state, variant = State.PASS, ""
    if above(deviation, allowed):
        wires_off = visit.inspection.wires_off_terminals is not False
        state = State.FAIL if sure is Confidence.FIRM and wires_off else State.REVIEW
    elif below(mean, limit("windings.low-ohm-meter").value):
        variant, sure = "low-ohm", Confidence.BORDERLINE
    return (
        report(
            "windings.phases-equal",
            state,
            pointers(numbers),
            measured=Quantity(deviation, "ohms", error),
            limit=_applied(allowed),
            confidence=sure,
            variant=variant,
        ),
    )


def _applied(allowed: float) -> Bounds:
    return limit("windings.phase-unbalance").bounds(high=allowed)


def _computed(visit: Visit, numbers: tuple[ClosedPair, ...]) -> WindingsComputed:
    mean = _mean(numbers)
    if mean <= 0.0:
        return NOTHING
    error = combined(*(ohm_error(visit, pair.ohms) for pair in numbers)) / len(numbers) ** 0.5
    value = unbalance_percent([pair.ohms for pair in numbers])
    return WindingsComputed(unbalance_percent=Quantity(value, "percent", 100.0 * error / mean))
