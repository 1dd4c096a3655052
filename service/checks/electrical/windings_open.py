"""Open circuits of a single-phase compressor: a hot motor is waited for, never condemned."""

from service.checks.electrical.shell import COLD, HOT, overload_open, shell_pointers, shell_state
from service.checks.electrical.winding_pairs import Pair, closed, cut_off_terminal, opened, pointers
from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.report import report

CODES = {"R": "windings.run-winding-open", "S": "windings.start-winding-open"}

Judged = tuple[tuple[Finding, ...], tuple[Missing, ...]]


def check_open(visit: Visit, pairs: tuple[Pair, ...]) -> Judged:
    """Name the open winding, lead or overload; at least one pair reads over the limit.

    Source: circuit logic of three terminals with one common point; the overload's place in the common leg:
    common practice.
    """
    if len(closed(pairs)) == 2:
        return _impossible(pairs), ()
    terminal = cut_off_terminal(pairs)
    if terminal is None:
        return _everything_open(visit, pairs)
    if terminal == "C":
        return _common_open(visit, pairs)
    return _terminal_open(visit, pairs, terminal)


def _impossible(pairs: tuple[Pair, ...]) -> tuple[Finding, ...]:
    """One pair open while both others are closed: the closed two are in series with it (W07)."""
    return (report("windings.readings-inconsistent", State.UNDECIDED, pointers(pairs), variant="one-open"),)


def _everything_open(visit: Visit, pairs: tuple[Pair, ...]) -> Judged:
    """All pairs open, or not enough pairs to tell: the probes or the paint may be to blame (W06)."""
    if shell_state(visit) == HOT:
        return _overload(visit, pairs, "hot")
    variant = "" if len(opened(pairs)) == 3 else "not-enough"
    return (report("windings.all-open", State.UNDECIDED, pointers(pairs), variant=variant),), ()


def _common_open(visit: Visit, pairs: tuple[Pair, ...]) -> Judged:
    """Both common legs open: the internal overload, unless the shell is cold (W02, W03)."""
    state = shell_state(visit)
    if state == HOT:
        return _overload(visit, pairs, "hot")
    if state != COLD:
        asked = Missing("/inspection/shell_temperature", "windings.shell-temperature")
        return _overload(visit, pairs, "not-known")[0], (asked,)
    return _open("windings.common-open", visit, pairs), ()


def _terminal_open(visit: Visit, pairs: tuple[Pair, ...], terminal: str) -> Judged:
    """Run or start open by name (W04, W05); by number the terminal may be common, so a hot shell waits."""
    state = shell_state(visit)
    if state == HOT or (terminal not in CODES and state != COLD):
        asked = () if state == HOT else (Missing("/inspection/shell_temperature", "windings.shell-temperature"),)
        return _overload(visit, pairs, "hot" if state == HOT else "not-known")[0], asked
    return _open(CODES.get(terminal, "windings.terminal-open"), visit, pairs, terminal), ()


def _open(code: str, visit: Visit, pairs: tuple[Pair, ...], terminal: str = "") -> tuple[Finding, ...]:
    """A verdict where both open pairs were read at the terminals; otherwise what is still owed."""
    state, variant = State.FAIL, ""
    if len(opened(pairs)) < 2:
        state, variant = State.UNDECIDED, "one-pair-owed"
    elif visit.electrical.windings.read_at == "lead_ends":
        state, variant = State.UNDECIDED, "lead-ends"
    values = {"terminal": terminal} if terminal else {}
    return (report(code, state, pointers(pairs) + shell_pointers(visit), variant=variant, values=values),)


def _overload(visit: Visit, pairs: tuple[Pair, ...], variant: str) -> Judged:
    return (overload_open(pointers(pairs) + shell_pointers(visit), variant),), ()
