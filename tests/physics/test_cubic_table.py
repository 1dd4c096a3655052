"""Piecewise cubic tables reproduce cubics exactly and refuse lists that do not fit."""

import numpy as np
import pytest

from service.physics.cubic_table import cubic_table


def cubic(x):
    return 2.0 - x + 0.5 * x**2 + 0.25 * x**3


def cubic_slope(x):
    return -1.0 + x + 0.75 * x**2


@pytest.fixture
def table():
    """A table of a cubic over -1..3: Hermite pieces are exact for it."""
    at = np.linspace(-1.0, 3.0, 6)
    return cubic_table(-1.0, 3.0, list(cubic(at)), list(cubic_slope(at) * 0.8))


@pytest.mark.parametrize("x", [-1.0, -0.7, 0.2, 1.0, 2.999, 3.0])
def test_a_cubic_is_reproduced_with_its_slope(table, x):
    assert table.value(x) == pytest.approx(cubic(x), rel=1e-13)
    assert table.slope(x) == pytest.approx(cubic_slope(x), rel=1e-12)
    assert table.values(np.array([x]))[0] == table.value(x)


@pytest.mark.parametrize(
    ("low", "high", "values", "slopes"),
    [(0.0, 1.0, [1.0], [1.0]), (0.0, 1.0, [1.0, 2.0], [1.0]), (1.0, 1.0, [1.0, 2.0], [1.0, 1.0])],
)
def test_lists_that_do_not_fit_are_refused(low, high, values, slopes):
    with pytest.raises(ValueError, match="cubic table"):
        cubic_table(low, high, values, slopes)
