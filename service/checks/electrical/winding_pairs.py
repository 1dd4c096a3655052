"""Winding readings pair by pair: leads subtracted, terminals named, what is connected to what."""

from service.checks.electrical.meters import combined, ohm_error
from service.results.record import Record
from service.results.resistance import Resistance
from service.results.visit import Visit
from service.verdicts.judge import above

NAMED = {"common_run": ("C", "R"), "common_start": ("C", "S"), "run_start": ("R", "S")}
NUMBERED = {"one_two": ("1", "2"), "two_three": ("2", "3"), "one_three": ("1", "3")}
BASE = "/electrical/windings"


class Pair(Record):
    """One reading between two terminals; ohms [ohm] less the meter leads, None when over the limit."""

    name: str
    ends: tuple[str, str]
    ohms: float | None

    @property
    def pointer(self) -> str:
        """Where the reading stands in the visit document."""
        return f"{BASE}/{self.name}"


class ClosedPair(Pair):
    """A pair that gave a number."""

    ohms: float


def read_pairs(visit: Visit) -> tuple[Pair, ...]:
    """The pairs that were read: by name where any name is given, else by number; shortest names first."""
    windings = visit.electrical.windings
    leads = windings.lead_ohms.ohms if windings.lead_ohms is not None else 0.0
    for names in (NAMED, NUMBERED):
        found = [(name, ends, getattr(windings, name)) for name, ends in names.items()]
        read = tuple(_pair(name, ends, value, leads or 0.0) for name, ends, value in found if value)
        if read:
            return read
    return ()


def _pair(name: str, ends: tuple[str, str], reading: Resistance, leads: float) -> Pair:
    if reading.ohms is None:
        return Pair(name, ends, None)
    return ClosedPair(name, ends, max(0.0, reading.ohms - leads))


def closed(pairs: tuple[Pair, ...]) -> tuple[ClosedPair, ...]:
    """The pairs that gave a number, smallest first."""
    return tuple(sorted((pair for pair in pairs if isinstance(pair, ClosedPair)), key=lambda pair: pair.ohms))


def opened(pairs: tuple[Pair, ...]) -> tuple[Pair, ...]:
    """The pairs that read over the limit."""
    return tuple(pair for pair in pairs if pair.ohms is None)


def is_named(pairs: tuple[Pair, ...]) -> bool:
    """True when the pairs were given by terminal name."""
    return any(pair.name in NAMED for pair in pairs)


def cut_off_terminal(pairs: tuple[Pair, ...]) -> str | None:
    """The terminal that no closed pair reaches although the other two are connected; None otherwise."""
    shut, cut = closed(pairs), opened(pairs)
    if len(shut) != 1 or not cut:
        return None
    return next(end for end in cut[0].ends if end not in shut[0].ends)


def pointers(pairs: tuple[Pair, ...]) -> tuple[str, ...]:
    """Where the pairs stand in the visit document."""
    return tuple(pair.pointer for pair in pairs)


class Terminals(Record):
    """Which terminal is which, by the readings alone; None where two pairs cannot be told apart."""

    common: str | None = None
    run: str | None = None
    start: str | None = None


def identify(visit: Visit, pairs: tuple[ClosedPair, ...]) -> Terminals:
    """Terminals of a single-phase compressor from three numbers, smallest pair first.

    Source: Heating and Cooling Essentials (Goodheart-Willcox, 2022), section 25.8: the highest pair is run and
    start, the terminal left over is common; from common the lower reading goes to run, the higher to start.
    """
    low, middle, high = pairs
    if not apart(visit, middle, high):
        return Terminals()
    common = _shared(low, middle)
    if not apart(visit, low, middle):
        return Terminals(common)
    return Terminals(common, _other(low, common), _other(middle, common))


def apart(visit: Visit, lower: ClosedPair, higher: ClosedPair) -> bool:
    """True when two readings differ by more than the meter's error; both share the same leads."""
    return above(higher.ohms - lower.ohms, combined(ohm_error(visit, lower.ohms), ohm_error(visit, higher.ohms)))


def _shared(first: Pair, second: Pair) -> str:
    return next(end for end in first.ends if end in second.ends)


def _other(pair: Pair, end: str) -> str:
    return pair.ends[0] if pair.ends[1] == end else pair.ends[1]
