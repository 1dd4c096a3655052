"""The rise of a shut-off vacuum: a straight line (leak) or a curve that levels off (moisture, outgassing).

Both shapes are fitted by least squares. The levelling shape p = a + b (1 - exp(-t / tau)) becomes the line as
tau grows, so one question remains: which time constants do the readings allow? Profile likelihood answers it
(Bates and Watts, Nonlinear Regression Analysis and Its Applications, 1988, section 6.1; from memory).
"""

from dataclasses import dataclass
from math import inf, sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FEWEST_SAMPLES = 4  # below it three parameters cannot be told from noise
# The gauge's known repeatability counts as so many residuals, so that a few lucky readings prove nothing.
PRIOR_FREEDOM = 2
DECISION_LEVEL = 0.99  # two-sided, for calling a shape
REPORTED_LEVEL = 0.95  # two-sided, for an uncertainty in an answer
_TIME_CONSTANTS = np.geomspace(0.02, 50.0, 320)  # over the time watched


@dataclass(frozen=True, slots=True)
class Interval:
    """A range of a fitted value; `high` is infinite where the readings set no upper end."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Rise:
    """What the two fits say. Pressures in Pa, times in the unit of the minutes given.

    duration: time watched. rate: slope of the line [Pa per minute] with its decision and reported half-widths.
    last: the better fit's value at the end. noise: standard deviation of a reading [Pa].
    time_constant: range allowed at the decision level, over the duration; straight readings have no upper end.
    plateau: level the curve runs to [Pa] and its ranges at both levels; shortest_plateau: level at the shortest
    allowed time constant. still_rising: a steady rise on top of the curve fits clearly better.
    """

    duration: float
    rate: float
    rate_decision: float
    rate_uncertainty: float
    last: float
    noise: float
    time_constant: Interval
    plateau: float
    plateau_decision: Interval
    plateau_reported: Interval
    shortest_plateau: float
    still_rising: bool


def fit_rise(minutes: Array, pressure: Array, repeatability: float) -> Rise:
    """Fit both shapes to the readings of a vacuum gauge after the pump is valved off.

    Parameters
    ----------
    minutes: times, ascending, at least FEWEST_SAMPLES, not all the same.
    pressure: absolute [Pa], as many.
    repeatability: standard deviation of one reading known beforehand [Pa], above 0.

    Returns
    -------
    The fits with their ranges.

    Raises
    ------
    ValueError: too few readings, or no time between them.
    """
    duration = float(minutes[-1] - minutes[0])
    if len(minutes) < FEWEST_SAMPLES or duration <= 0.0:
        raise ValueError("too few readings, or no time between them")
    x = (minutes - minutes[0]) / duration
    curve = _Curves(x, pressure)
    best = curve.refined()
    freedom = PRIOR_FREEDOM + len(x) - 3
    variance = (PRIOR_FREEDOM * repeatability**2 + best.squares) / freedom
    decision = _range(curve, best, variance * student_t(DECISION_LEVEL, freedom) ** 2)
    reported = _range(curve, best, variance * student_t(REPORTED_LEVEL, freedom) ** 2)
    line = _Line(x, pressure, repeatability)
    return Rise(
        duration,
        line.slope / duration,
        line.deviation * student_t(DECISION_LEVEL, line.freedom) / duration,
        line.deviation * student_t(REPORTED_LEVEL, line.freedom) / duration,
        line.end if decision.time_constant.high == inf else best.end,
        sqrt(variance),
        decision.time_constant,
        best.plateau,
        decision.plateau,
        reported.plateau,
        decision.shortest_plateau,
        _still_rising(x, pressure, best, variance, freedom),
    )


def student_t(level: float, freedom: int) -> float:
    """Two-sided Student quantile, 3 degrees of freedom and more, within 2 % at level 0.99.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5 (four terms).
    Example: level 0.95 and 10 degrees of freedom give 2.228.
    """
    z = NormalDist().inv_cdf(0.5 + level / 2.0)
    terms = (
        (z**3 + z) / 4.0,
        (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / 96.0,
        (3.0 * z**7 + 19.0 * z**5 + 17.0 * z**3 - 15.0 * z) / 384.0,
        (79.0 * z**9 + 776.0 * z**7 + 1482.0 * z**5 - 1920.0 * z**3 - 945.0 * z) / 92160.0,
    )
    return z + sum(term / float(freedom) ** power for power, term in enumerate(terms, start=1))


@dataclass(frozen=True, slots=True)
class _Fit:
    time_constant: float
    squares: float
    plateau: float
    end: float


class _Line:
    """Ordinary least squares through the readings; the known repeatability steadies the residuals."""

    def __init__(self, x: Array, pressure: Array, repeatability: float) -> None:
        centred = x - x.mean()
        spread = float(centred @ centred)
        self.slope = float(centred @ pressure) / spread
        residual = pressure - pressure.mean() - self.slope * centred
        self.freedom = PRIOR_FREEDOM + len(x) - 2
        variance = (PRIOR_FREEDOM * repeatability**2 + float(residual @ residual)) / self.freedom
        self.deviation = sqrt(variance / spread)
        self.end = float(pressure.mean()) + self.slope * float(centred[-1])


class _Curves:
    """The levelling shape for every time constant of a grid: for each, a straight-line problem in closed form."""

    def __init__(self, x: Array, pressure: Array, time_constants: Array = _TIME_CONSTANTS) -> None:
        self.x, self.pressure, self.time_constants = x, pressure, time_constants
        # Scaled so that the shape runs to the plain line as the time constant grows, without cancellation.
        shape = -np.expm1(-x[None, :] / time_constants[:, None]) * time_constants[:, None]
        centred = shape - shape.mean(axis=1, keepdims=True)
        height = pressure - pressure.mean()
        slope = (centred @ height) / (centred**2).sum(axis=1)
        residual = height[None, :] - slope[:, None] * centred
        self.squares = (residual**2).sum(axis=1)
        start = pressure.mean() - slope * shape.mean(axis=1)
        self.plateaus = start + slope * time_constants
        self.ends = start + slope * shape[:, -1]

    def best(self) -> _Fit:
        """The grid point that fits best."""
        at = int(np.argmin(self.squares))
        values = (self.time_constants, self.squares, self.plateaus, self.ends)
        return _Fit(*(float(array[at]) for array in values))

    def refined(self) -> _Fit:
        """The best fit on a second, finer grid around the first one's."""
        at = int(np.argmin(self.squares))
        low = self.time_constants[max(at - 1, 0)]
        high = self.time_constants[min(at + 1, len(self.time_constants) - 1)]
        return _Curves(self.x, self.pressure, np.geomspace(low, high, 200)).best()


@dataclass(frozen=True, slots=True)
class _Ranges:
    time_constant: Interval
    plateau: Interval
    shortest_plateau: float


def _range(curve: _Curves, best: _Fit, allowance: float) -> _Ranges:
    """Time constants and plateaus whose squares exceed the best by no more than the allowance."""
    allowed = curve.squares <= best.squares + allowance
    constants = np.append(curve.time_constants[allowed], best.time_constant)
    plateaus = np.append(curve.plateaus[allowed], best.plateau)
    open_end = bool(allowed[-1])
    return _Ranges(
        Interval(float(constants.min()), inf if open_end else float(constants.max())),
        Interval(float(plateaus.min()), inf if open_end else float(plateaus.max())),
        float(plateaus[int(np.argmin(constants))]),
    )


def _still_rising(x: Array, pressure: Array, best: _Fit, variance: float, freedom: int) -> bool:
    """Whether a line on top of the best curve takes away more than chance would, and points upward."""
    shape = -np.expm1(-x / best.time_constant)
    basis = np.stack([np.ones_like(x), shape, x], axis=1)
    solution, *_ = np.linalg.lstsq(basis, pressure, rcond=None)
    residual = pressure - basis @ solution
    gain = best.squares - float(residual @ residual)
    return bool(solution[2] > 0.0 and gain > variance * student_t(DECISION_LEVEL, freedom) ** 2)
