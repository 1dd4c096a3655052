"""The rise of a shut-off vacuum: a straight line (leak) or a curve that levels off (moisture, outgassing).

Both shapes are fitted by least squares. The levelling shape p = a + b (1 - exp(-t / tau)) becomes the line as
tau grows, so one question remains: which time constants do the readings allow? Profile likelihood answers it
(Bates and Watts, Nonlinear Regression Analysis and Its Applications, 1988, section 6.1; from memory).
"""

from math import inf, sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from service.results.record import Record

Array = NDArray[np.float64]

FEWEST_SAMPLES = 3  # below it no bend can be seen, whatever the noise
# The gauge's known repeatability counts as so many residuals, so that a few lucky readings prove nothing.
PRIOR_FREEDOM = 2
DECISION_LEVEL = 0.99  # two-sided, for calling a shape
REPORTED_LEVEL = 0.95  # two-sided, for an uncertainty in an answer
_TIME_CONSTANTS = np.geomspace(0.02, 2000.0, 400)  # over the time watched; the last is a line
_FEWEST_FOR_SHARE = 4  # parameters of a curve with a line on top of it
_SHORT = np.geomspace(0.02, 2.0, 160)  # beyond, a curve and a line on top of it cannot be told apart


class Interval(Record):
    """A range of a fitted value; `high` is infinite where the readings set no upper end."""

    low: float
    high: float


class Rise(Record):
    """What the two fits say. Pressures in Pa, times in the unit of the minutes given.

    duration: time watched. trend: 1 where the readings surely rise, -1 where they surely fall, 0 else.
    rate: slope of the line [Pa per minute] with its decision and reported half-widths. last: the better fit's
    value at the end. highest: of the readings. noise: standard deviation of a reading [Pa].
    time_constant: range allowed at the decision level, over the duration; straight readings have no upper end.
    plateau: level the curve runs to [Pa] and its ranges at both levels. steady_share: part of the rise that a
    steady line on top of a curve accounts for, where adding one fits clearly better; 0 where it does not.
    """

    duration: float
    trend: int
    rate: float
    rate_decision: float
    rate_uncertainty: float
    last: float
    highest: float
    noise: float
    time_constant: Interval
    plateau: float
    plateau_decision: Interval
    plateau_reported: Interval
    steady_share: float


def fit_rise(minutes: Array, pressure: Array, repeatability: float) -> Rise:
    """Fit both shapes to the readings of a vacuum gauge after the pump is valved off.

    Parameters
    ----------
    minutes : [min], ascending, at least FEWEST_SAMPLES, not all the same
    pressure : [Pa] absolute, as many
    repeatability : [Pa] standard deviation of one reading known beforehand, above 0

    Returns
    -------
    [Pa], [Pa/min] and [min], the fits with their ranges

    Raises
    ------
    ValueError
        too few readings, or no time between them

    References
    ----------
    Profile likelihood, Bates and Watts, Nonlinear Regression Analysis and Its Applications (1988), section 6.1
    (from memory).
    """
    duration = float(minutes[-1] - minutes[0])
    if len(minutes) < FEWEST_SAMPLES or duration <= 0.0:
        raise ValueError("too few readings, or no time between them")
    x = (minutes - minutes[0]) / duration
    curve = _around_best(x, pressure)
    best = curve.best()
    freedom = PRIOR_FREEDOM + len(x) - 3
    variance = (PRIOR_FREEDOM * repeatability**2 + best.squares) / freedom
    constants, decision = _range(curve, best, variance * student_t(DECISION_LEVEL, freedom) ** 2)
    _, reported = _range(curve, best, variance * student_t(REPORTED_LEVEL, freedom) ** 2)
    line = _Line(x, pressure, repeatability)
    return Rise(
        duration,
        _trend(pressure, best, variance, freedom),
        line.slope / duration,
        line.deviation * student_t(DECISION_LEVEL, line.freedom) / duration,
        line.deviation * student_t(REPORTED_LEVEL, line.freedom) / duration,
        line.end if constants.high == inf else best.end,
        float(pressure.max()),
        sqrt(variance),
        constants,
        best.plateau,
        decision,
        reported,
        _steady_share(x, pressure, best, repeatability),
    )


def student_t(level: float, freedom: int) -> float:
    """Two-sided Student quantile, within 4 % at level 0.99 with 2 degrees of freedom and 1 % from 3 up.

    Parameters
    ----------
    level : [1], above 0 and below 1
    freedom : [1] degrees of freedom, 2 or more

    Returns
    -------
    [1]

    References
    ----------
    Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5 (four terms).

    Examples
    --------
    >>> round(student_t(0.95, 10), 3)
    2.228
    """
    z = NormalDist().inv_cdf(0.5 + level / 2.0)
    terms = (
        (z**3 + z) / 4.0,
        (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / 96.0,
        (3.0 * z**7 + 19.0 * z**5 + 17.0 * z**3 - 15.0 * z) / 384.0,
        (79.0 * z**9 + 776.0 * z**7 + 1482.0 * z**5 - 1920.0 * z**3 - 945.0 * z) / 92160.0,
    )
    return z + sum(term / float(freedom) ** power for power, term in enumerate(terms, start=1))


class _Fit(Record):
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

    def __init__(self, x: Array, pressure: Array, time_constants: Array) -> None:
        self.x, self.pressure, self.time_constants = x, pressure, time_constants
        # Scaled so that the shape runs to the plain line as the time constant grows, without cancellation.
        shape = -np.expm1(-x[None, :] / time_constants[:, None]) * time_constants[:, None]
        centred = shape - shape.mean(axis=1, keepdims=True)
        height = pressure - pressure.mean()
        spread = (centred**2).sum(axis=1)
        slope = (centred @ height) / spread
        residual = height[None, :] - slope[:, None] * centred
        self.squares = (residual**2).sum(axis=1)
        start = pressure.mean() - slope * shape.mean(axis=1)
        # Squared half-width of the plateau per unit of squares, at a time constant held fixed.
        self.leverage = 1.0 / len(x) + (time_constants - shape.mean(axis=1)) ** 2 / spread
        self.plateaus = start + slope * time_constants
        self.ends = start + slope * shape[:, -1]

    def best(self) -> _Fit:
        """The grid point that fits best."""
        at = int(np.argmin(self.squares))
        values = (self.time_constants, self.squares, self.plateaus, self.ends)
        return _Fit(*(float(array[at]) for array in values))


def _around_best(x: Array, pressure: Array) -> _Curves:
    """The curves of the wide grid, and of a fine one around the best of them: a sharp minimum needs it."""
    best = _Curves(x, pressure, _TIME_CONSTANTS).best().time_constant
    fine = np.geomspace(best / 1.1, best * 1.1, 201)
    return _Curves(x, pressure, np.union1d(_TIME_CONSTANTS, fine))


def _range(curve: _Curves, best: _Fit, allowance: float) -> tuple[Interval, Interval]:
    """Time constants and plateaus whose squares exceed the best by no more than the allowance."""
    slack = best.squares + allowance - curve.squares
    allowed = slack >= 0.0
    constants, middle = curve.time_constants[allowed], curve.plateaus[allowed]
    width = np.sqrt(slack[allowed] * curve.leverage[allowed])
    open_end = bool(allowed[-1])
    return (
        Interval(float(constants.min()), inf if open_end else float(constants.max())),
        Interval(float((middle - width).min()), inf if open_end else float((middle + width).max())),
    )


def _trend(pressure: Array, best: _Fit, variance: float, freedom: int) -> int:
    """Whether the better fit beats a constant by more than chance would, and which way it goes."""
    gain = float(((pressure - pressure.mean()) ** 2).sum()) - best.squares
    if gain <= 2.0 * variance * student_t(DECISION_LEVEL, freedom) ** 2:
        return 0
    return 1 if best.end > float(pressure.mean()) else -1


def _steady_share(x: Array, pressure: Array, best: _Fit, repeatability: float) -> float:
    """Part of the rise [1] that is a line on top of a curve, if it takes away more residuals than chance would."""
    if len(x) < _FEWEST_FOR_SHARE:
        return 0.0
    shape = -np.expm1(-x[None, :] / _SHORT[:, None])
    line = np.stack([np.ones_like(x), x])
    # What no straight line can explain, of the shapes and of the readings: one more slope fits the rest.
    bent, left = shape - _on_line(shape, line), pressure - _on_line(pressure, line)
    height = (bent @ left) / (bent**2).sum(axis=1)
    squares = ((left[None, :] - height[:, None] * bent) ** 2).sum(axis=1)
    at = int(np.argmin(squares))
    slope = np.linalg.lstsq(line.T, pressure - height[at] * shape[at], rcond=None)[0][1]
    freedom = PRIOR_FREEDOM + len(x) - 4
    variance = (PRIOR_FREEDOM * repeatability**2 + float(squares[at])) / freedom
    gain = best.squares - float(squares[at])
    if gain <= variance * student_t(DECISION_LEVEL, freedom) ** 2:
        return 0.0
    return max(float(slope / (slope + height[at] * shape[at, -1])), 0.0)


def _on_line(values: Array, line: Array) -> Array:
    """The straight-line part of readings (or of rows of them)."""
    basis = np.linalg.qr(line.T)[0]
    projected: Array = values @ basis @ basis.T
    return projected
