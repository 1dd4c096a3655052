"""A smooth function of two variables, kept as a product of Chebyshev polynomials."""

from __future__ import annotations

from functools import lru_cache
from math import acos

import numpy as np
from numpy.polynomial.chebyshev import cheb2poly

from service.physics.cubic_table import FloatArray
from service.results.record import Record

Series = tuple[float, ...]
_ORDERS = np.arange(64)


class ChebyshevTable(Record, eq=False):
    """Sum over m, n of coefficient[m, n] Tm(x) Tn(y) for x and y in -1..1.

    References
    ----------
    Mason and Handscomb, Chebyshev Polynomials (2003), section 6 (from memory).
    """

    coefficients: FloatArray

    def value(self, x: float, y: float) -> float:
        """Value at one point.

        Parameters
        ----------
        x, y : [1] place in the table, -1 to 1

        Returns
        -------
        [unit of the coefficients]
        """
        return series_value(self.along(x), y)

    def along(self, x: float) -> Series:
        """Coefficients of falling powers of y that are left when x is held.

        Parameters
        ----------
        x : [1] place in the table, -1 to 1

        Returns
        -------
        [unit of the coefficients], one a power of y
        """
        (series,) = side_by_side(self).along(x)
        return series


class SideBySide(Record, eq=False):
    """Tables of one shape that are asked at the same places: one product of matrices serves them all.

    The polynomials in y are kept as falling powers of y, for Horner's rule. Up to order ten or so, and with
    coefficients that fall as those of a smooth function do, that costs no digit that counts.

    References
    ----------
    As `ChebyshevTable`.
    """

    powers: FloatArray
    tables: int

    def along(self, x: float) -> tuple[Series, ...]:
        """For each table the coefficients of falling powers of y that are left when x is held.

        Parameters
        ----------
        x : [1] place in the tables, -1 to 1

        Returns
        -------
        [unit of each table], one tuple a table
        """
        # Tn(x) = cos(n arccos x); rounding may put x a hair outside -1..1.
        polynomials = np.cos(_ORDERS[: len(self.powers)] * acos(min(1.0, max(-1.0, x))))
        flat = (polynomials @ self.powers).tolist()
        length = len(flat) // self.tables
        return tuple([tuple(flat[start : start + length]) for start in range(0, len(flat), length)])


@lru_cache(maxsize=256)
def side_by_side(*tables: ChebyshevTable) -> SideBySide:
    """The tables as one; made once, because the tables stay."""
    return SideBySide(np.hstack([table.coefficients @ _falling_powers(table) for table in tables]), len(tables))


def _falling_powers(table: ChebyshevTable) -> FloatArray:
    """Chebyshev polynomials of the table's second variable (rows) in falling powers (columns)."""
    orders = table.coefficients.shape[1]
    rows = [
        np.append(cheb2poly(row[: order + 1]), [0.0] * (orders - order - 1))
        for order, row in enumerate(np.eye(orders))
    ]
    result: FloatArray = np.array(rows)[:, ::-1]
    return result


def series_value(falling: Series, y: float) -> float:
    """Value of a polynomial with coefficients of falling powers, by Horner's rule.

    Parameters
    ----------
    falling : [unit of the value], the highest power first
    y : [1]

    Returns
    -------
    [unit of the coefficients]

    References
    ----------
    Horner's rule, any textbook of numerical analysis.

    Examples
    --------
    >>> series_value((2.0, 0.0, 1.0), 3.0)
    19.0
    """
    value = 0.0
    for coefficient in falling:
        value = value * y + coefficient
    return value


def value_and_slope(falling: Series, y: float) -> tuple[float, float]:
    """Value of a polynomial as `series_value` does, and its derivative.

    Parameters
    ----------
    falling : [unit of the value], the highest power first
    y : [1]

    Returns
    -------
    [unit of the coefficients], value and derivative

    References
    ----------
    Horner's rule, any textbook of numerical analysis.

    Examples
    --------
    >>> value_and_slope((2.0, 0.0, 1.0), 3.0)
    (19.0, 12.0)
    """
    value, slope = 0.0, 0.0
    for coefficient in falling:
        slope = slope * y + value
        value = value * y + coefficient
    return value, slope
