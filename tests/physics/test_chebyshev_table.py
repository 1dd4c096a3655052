"""Chebyshev tables against numpy's own evaluation of the same series."""

import numpy as np
import pytest
from numpy.polynomial.chebyshev import chebval2d

from service.knowledge.refrigerants import find
from service.physics.chebyshev_table import ChebyshevTable, series_value, side_by_side, value_and_slope

PLACES = np.linspace(-1.0, 1.0, 9)


@pytest.mark.parametrize("name", ["R-410A", "R-22", "R-744"])
@pytest.mark.parametrize("table", ["enthalpy_table", "entropy_table", "log_compressibility_table"])
def test_powers_lose_no_digit_that_counts(name, table):
    found = getattr(find(name).properties.superheated, table)
    for x in PLACES:
        for y in PLACES:
            assert found.value(x, y) == pytest.approx(chebval2d(x, y, found.coefficients), rel=1e-12, abs=1e-12)


def test_tables_side_by_side_keep_their_own_values():
    first = ChebyshevTable(np.array([[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]]))
    second = ChebyshevTable(np.array([[-1.0, 0.0, 2.0], [0.5, 0.0, 0.25]]))
    one, two = side_by_side(first, second).along(0.3)
    assert series_value(one, -0.4) == pytest.approx(chebval2d(0.3, -0.4, first.coefficients))
    assert series_value(two, -0.4) == pytest.approx(chebval2d(0.3, -0.4, second.coefficients))


def test_the_slope_is_the_derivative():
    value, slope = value_and_slope((2.0, -3.0, 0.5, 7.0), 0.6)
    assert value == pytest.approx(2.0 * 0.216 - 3.0 * 0.36 + 0.5 * 0.6 + 7.0)
    assert slope == pytest.approx(6.0 * 0.36 - 6.0 * 0.6 + 0.5)
