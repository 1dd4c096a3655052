"""Readings over time, pressure or vacuum: in order, cut where something was moved, with what was seen in them."""

from collections.abc import Sequence

import numpy as np

from service.knowledge.limits import limit
from service.physics.series import Array, Mask, find_step, find_stray
from service.results.record import Record, replace

INSTANT = 0.01  # min: readings closer together are one reading
MOST_STEPS = 5  # after so many the readings are no series


class Seen(Record):
    """Something in the readings beside a steady change: step, gap, stray; between which minutes and readings."""

    what: str
    start: float
    end: float
    before: float
    after: float
    evidence: tuple[int, ...]


class Series(Record):
    """Complete readings in order of time: place in the request, minutes, value and standard deviation of each."""

    places: tuple[int, ...]
    minutes: Array
    values: Array
    deviations: Array
    seen: tuple[Seen, ...] = ()

    @property
    def duration(self) -> float:
        """Time from the first to the last reading.

        Returns
        -------
        [min], 0 without readings

        References
        ----------
        The readings.
        """
        return float(self.minutes[-1] - self.minutes[0]) if len(self.minutes) else 0.0

    @property
    def apart(self) -> bool:
        """Whether there are two readings apart in time."""
        return self.duration >= INSTANT

    def kept(self, keep: Mask) -> "Series":
        """The readings that are kept."""
        places = tuple(place for place, kept in zip(self.places, keep, strict=True) if kept)
        return Series(places, self.minutes[keep], self.values[keep], self.deviations[keep], self.seen)


def series(rows: Sequence[tuple[float, int, float, float]]) -> Series:
    """The series of (minutes, place in the request, value, standard deviation), in any order."""
    ordered = sorted(rows)
    minutes, values, deviations = (np.array([row[index] for row in ordered], dtype=float) for index in (0, 2, 3))
    return Series(tuple(row[1] for row in ordered), minutes, values, deviations)


def judged_stretch(whole: Series) -> Series:
    """The readings after the last step, without a stray one; what was left out is in `seen`."""
    found = _without_stray(whole)
    for _ in range(MOST_STEPS):
        step = find_step(found.minutes, found.values, found.deviations)
        if step is None:
            return found
        last, first = step.index - 1, step.index
        start, end = float(found.minutes[last]), float(found.minutes[first])
        what = "gap" if end - start > limit("procedures.series-gap").value * _usual_interval(found) else "step"
        before, after = float(found.values[last]), float(found.values[first])
        seen = Seen(what, start, end, before, after, (found.places[last], found.places[first]))
        kept = found.kept(np.arange(len(found.minutes)) >= first)
        found = replace(kept, seen=(*found.seen, seen))
    return found


def _without_stray(whole: Series) -> Series:
    stray = find_stray(whole.minutes, whole.values, whole.deviations)
    if stray is None:
        return whole
    keep = np.arange(len(whole.minutes)) != stray
    minute, around = float(whole.minutes[stray]), float(whole.values[stray - 1])
    seen = Seen("stray", minute, minute, around, float(whole.values[stray]), (whole.places[stray],))
    return replace(whole.kept(keep), seen=(seen,))


def _usual_interval(found: Series) -> float:
    return float(np.median(np.diff(found.minutes)))
