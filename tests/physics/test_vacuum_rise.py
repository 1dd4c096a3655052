"""The rise of a vacuum: curves with known truth, and the statistics behind the ranges."""

from math import inf

import numpy as np
import pytest
from scipy.optimize import curve_fit
from scipy.stats import t as student

from service.physics.vacuum_rise import fit_rise, student_t

MINUTES = np.linspace(0.0, 15.0, 16)


@pytest.mark.parametrize("freedom", [3, 4, 5, 10, 30])
@pytest.mark.parametrize("level", [0.95, 0.99])
def test_student_quantile(level, freedom):
    """scipy's exact quantile, within the 1 % stated."""
    assert student_t(level, freedom) == pytest.approx(student.ppf(0.5 + level / 2.0, freedom), rel=0.01)


def test_a_line_is_found_straight():
    rise = fit_rise(MINUTES, 30.0 + 8.0 * MINUTES, 0.5)
    assert rise.rate == pytest.approx(8.0)
    assert rise.last == pytest.approx(150.0)
    assert rise.time_constant.high == inf
    assert rise.plateau_decision.high == inf
    assert rise.time_constant.low > 5.0


def test_a_plateau_is_found():
    """p = 40 + 200 (1 - exp(-t/4)): plateau 240, time constant 4 of 15 minutes."""
    rise = fit_rise(MINUTES, 40.0 + 200.0 * (1.0 - np.exp(-MINUTES / 4.0)), 0.5)
    assert rise.plateau == pytest.approx(240.0, rel=1e-3)
    assert rise.time_constant.low < 4.0 / 15.0 < rise.time_constant.high < 0.3
    assert rise.plateau_decision.low < 240.0 < rise.plateau_decision.high
    assert rise.steady_share == 0.0


def test_a_line_on_top_of_a_curve_is_measured():
    """A fifth of the rise on a line: 200 (1 - exp(-t/2)) + 50 t/15; the time constants tried are 3 % apart."""
    curve = 40.0 + 200.0 * (1.0 - np.exp(-MINUTES / 2.0)) + 50.0 * MINUTES / 15.0
    assert fit_rise(MINUTES, curve, 0.3).steady_share == pytest.approx(0.2, abs=0.01)


def test_a_line_that_falls_is_no_steady_rise():
    curve = 40.0 + 200.0 * (1.0 - np.exp(-MINUTES / 2.0)) - 50.0 * MINUTES / 15.0
    assert fit_rise(MINUTES, curve, 0.3).steady_share == 0.0


def test_the_plateau_agrees_with_an_independent_fit():
    """scipy's Levenberg-Marquardt on the same noisy readings."""
    noise = np.random.default_rng(3).normal(0.0, 2.0, len(MINUTES))
    readings = 40.0 + 200.0 * (1.0 - np.exp(-MINUTES / 4.0)) + noise

    def shape(minutes, start, height, tau):
        return start + height * (1.0 - np.exp(-minutes / tau))

    found, _ = curve_fit(shape, MINUTES, readings, p0=(40.0, 200.0, 5.0))
    assert fit_rise(MINUTES, readings, 2.0).plateau == pytest.approx(found[0] + found[1], rel=1e-4)


def test_the_reported_ranges_cover_the_truth():
    """95 % ranges of slope and plateau over 300 seeds: at least 92 % cover (three standard errors below 95 %)."""
    slope_in = plateau_in = 0
    for seed in range(300):
        noise = np.random.default_rng(seed).normal(0.0, 3.0, len(MINUTES))
        line = fit_rise(MINUTES, 50.0 + 5.0 * MINUTES + noise, 3.0)
        slope_in += abs(line.rate - 5.0) <= line.rate_uncertainty
        curve = fit_rise(MINUTES, 40.0 + 200.0 * (1.0 - np.exp(-MINUTES / 4.0)) + noise, 3.0)
        plateau_in += curve.plateau_reported.low <= 240.0 <= curve.plateau_reported.high
    assert slope_in >= 276
    assert plateau_in >= 276


@pytest.mark.parametrize("minutes", [[0.0, 1.0], [5.0, 5.0, 5.0, 5.0]])
def test_too_few_readings_are_refused(minutes):
    with pytest.raises(ValueError, match="too few"):
        fit_rise(np.array(minutes), np.full(len(minutes), 50.0), 1.0)
