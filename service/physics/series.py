"""Readings of one gauge over time: a step, a stray reading, and a steady rate beside a settling that dies away.

All readings count, each with the standard deviation of that gauge against itself. Models are straight lines
in their parameters for a given settling time, so least squares is exact (JCGM 100:2008 and any textbook of
linear regression); the amount that can settle is known beforehand and enters as one more observation.
"""

from math import sqrt

import numpy as np
from numpy.typing import NDArray

from service.results.record import Record

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

FEWEST_FOR_STEP = 5  # two readings before it, and more than a broken line can follow anyway
QUANTILE = 2.576  # of the normal distribution, two-sided 99 %
_ALLOWED = QUANTILE**2  # squares above the best that a model may have
_FEWEST_FREE = 3  # residuals that may speak of more scatter than the gauge's own
_BEND = np.geomspace(0.03, 3.0, 24)  # time constants over the time watched of a curve that is no step
_STEP_GAIN = 12.0  # how far a step must beat a line, in units of the scatter that it leaves; project choice
_STEP_OVER_CURVE = 0.3  # of the squares that the best curve leaves; project choice
_STEP_OVER_SLOPE = 3.0  # times what the steady rate brings in that interval; project choice


class Step(Record):
    """A sudden change: readings from `index` on lie after it; `size` in the unit of the readings."""

    index: int
    size: float


class SteadyRate(Record):
    """Change per minute that neither scatter nor settling explains, with its 99 % range.

    rate: of the plainest model that fits. deviation: its standard deviation. low, high: over all models that
    fit, where settling can only have lowered the readings. settled: what settling took away in all (0 where
    none is needed, below 0 where the readings settled upward).
    """

    rate: float
    deviation: float
    low: float
    high: float
    settled: float


class _Model(Record):
    squares: float
    rate: float
    deviation: float
    settling: float


def find_step(minutes: Array, readings: Array, deviations: Array) -> Step | None:
    """The sudden change between two neighbouring readings that a line or a curve cannot follow.

    Parameters
    ----------
    minutes : [min], ascending
    readings : [unit of the gauge], as many
    deviations : [unit of the gauge] standard deviations, as many, above 0

    Returns
    -------
    [unit of the gauge], the step; None where there is none or fewer than five readings

    References
    ----------
    Least squares with a dummy variable; the marks are this project's choice.
    """
    count = len(minutes)
    if count < FEWEST_FOR_STEP:
        return None
    line = _line(minutes)
    tried = [_stepped(line, readings, deviations, index) for index in range(2, count)]
    squares, index, size, slope = min(tried)
    between = float(minutes[index] - minutes[index - 1])
    sudden = abs(size) > _STEP_OVER_SLOPE * abs(slope) * between
    return Step(index, size) if sudden and _explains(squares, line, readings, deviations) else None


def find_stray(minutes: Array, readings: Array, deviations: Array) -> int | None:
    """The one reading in between that alone keeps the others from a line.

    Parameters
    ----------
    minutes : [min], ascending
    readings : [unit of the gauge], as many
    deviations : [unit of the gauge] standard deviations, as many, above 0

    Returns
    -------
    [1], its index; None where there is none or fewer than five readings

    References
    ----------
    Least squares without one reading; the marks are this project's choice.
    """
    count = len(minutes)
    if count < FEWEST_FOR_STEP:
        return None
    line = _line(minutes)
    tried = [(_without(line, readings, deviations, index), index) for index in range(1, count - 1)]
    squares, index = min(tried)
    return index if _explains(squares, line, readings, deviations) else None


def _line(minutes: Array) -> Array:
    return np.stack([np.ones(len(minutes)), minutes - minutes[0]], axis=1)


def _explains(squares: float, line: Array, readings: Array, deviations: Array) -> bool:
    """Whether what leaves these squares explains far more than a line alone, and a smooth curve does not."""
    free = len(readings) - 3
    gain = _squares(line, readings, deviations)[0] - squares
    clear = gain > _STEP_GAIN * (1.0 + 10.0 / free) * max(1.0, squares / free)
    return bool(clear) and squares <= _STEP_OVER_CURVE * _curved(line, readings, deviations)


def steady_rate(
    minutes: Array, readings: Array, deviations: Array, most_settling: float, time_constants: tuple[float, ...]
) -> SteadyRate:
    """The steady rate of readings that may also settle downward, a + r t + b exp(-t / tau) with b >= 0.

    Parameters
    ----------
    minutes : [min], ascending, two or more, apart in time, from the start of the settling
    readings : [unit of the gauge], as many
    deviations : [unit of the gauge] standard deviations, as many, above 0
    most_settling : [unit of the gauge], the most that settling can take away, above 0
    time_constants : [min] of settling, each above 0

    Returns
    -------
    [unit of the gauge per min], the rate with its range

    References
    ----------
    Weighted least squares; JCGM 100:2008 (GUM) for the ranges.
    """
    plain = _fitted(minutes, readings, deviations)
    settling = [_fitted(minutes, readings, deviations, most_settling / QUANTILE, tau) for tau in time_constants]
    best = min(model.squares for model in (plain, *settling))
    free = len(minutes) - _FEWEST_FREE
    scatter = max(1.0, best / free) if free >= _FEWEST_FREE else 1.0
    reach, width = best + _ALLOWED * scatter, QUANTILE * sqrt(scatter)
    allowed = [model for model in settling if model.squares <= reach]
    highest = [model.rate + width * model.deviation for model in allowed]
    lowest = [model.rate - width * model.deviation for model in allowed]
    if plain.squares <= reach:
        # Settling lowers the readings: it can be part of a loss, and hides none.
        low, high = plain.rate - width * plain.deviation, plain.rate + width * plain.deviation
        return SteadyRate(plain.rate, sqrt(scatter) * plain.deviation, low, max(high, *highest), 0.0)
    chosen = min(settling, key=lambda model: model.squares)
    deviation = sqrt(scatter) * chosen.deviation
    return SteadyRate(chosen.rate, deviation, min(lowest), max(highest), chosen.settling)


def _fitted(
    minutes: Array, readings: Array, deviations: Array, prior: float | None = None, time_constant: float = 1.0
) -> _Model:
    """Least squares of a line, or of a line and a settling whose size is known to within `prior` (1 sigma)."""
    elapsed = minutes - minutes[0]
    columns = [np.ones(len(minutes)), elapsed]
    sought = readings / deviations
    if prior is not None:
        columns.append(np.exp(-elapsed / time_constant))
    weighted = np.stack(columns, axis=1) / deviations[:, None]
    if prior is not None:
        weighted = np.vstack([weighted, [0.0, 0.0, 1.0 / prior]])
        sought = np.append(sought, 0.0)
    found = np.linalg.lstsq(weighted, sought, rcond=None)[0]
    squares = float(((sought - weighted @ found) ** 2).sum())
    variance = float(np.linalg.pinv(weighted.T @ weighted)[1, 1])
    return _Model(squares, float(found[1]), sqrt(variance), float(found[2]) if prior is not None else 0.0)


def _stepped(line: Array, readings: Array, deviations: Array, index: int) -> tuple[float, int, float, float]:
    """Squares, place, size and slope of a line that is broken before the reading `index`."""
    after = (np.arange(len(readings)) >= index).astype(float)
    squares, found = _squares(np.column_stack([line, after]), readings, deviations)
    return squares, index, float(found[2]), float(found[1])


def _without(line: Array, readings: Array, deviations: Array, index: int) -> float:
    keep = np.arange(len(readings)) != index
    return _squares(line[keep], readings[keep], deviations[keep])[0]


def _curved(line: Array, readings: Array, deviations: Array) -> float:
    """Squares of the best line with a curve on it that levels off."""
    elapsed = line[:, 1]
    bends = (np.exp(-elapsed / (elapsed[-1] * share)) for share in _BEND)
    return min(_squares(np.column_stack([line, bend]), readings, deviations)[0] for bend in bends)


def _squares(columns: Array, readings: Array, deviations: Array) -> tuple[float, Array]:
    weighted, sought = columns / deviations[:, None], readings / deviations
    found = np.asarray(np.linalg.lstsq(weighted, sought, rcond=None)[0], dtype=np.float64)
    return float(((sought - weighted @ found) ** 2).sum()), found
