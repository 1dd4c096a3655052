"""A smooth function of one variable, kept as cubic pieces on evenly spaced knots."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from service.results.record import Record

FloatArray = NDArray[np.float64]
Piece = tuple[float, float, float, float]


class CubicTable(Record, eq=False):
    """Piecewise cubic Hermite interpolation on evenly spaced knots.

    Even spacing makes finding the piece one multiplication, so that a value costs a fraction of a
    microsecond in plain Python; numpy only pays from about 25 values upward.

    Attributes
    ----------
    origin : [unit of the variable], position of the first knot
    per_step : [1 per unit of the variable], knots per unit
    pieces : [unit of the values], coefficients of 1, t, t2, t3 for each interval, t in 0..1. One more piece
        stands after the last knot so that the upper end itself, and what rounding puts a hair above it, is
        answered like any other point.
    piece_array : the same, for whole arrays

    References
    ----------
    Cubic Hermite form, e.g. de Boor, A Practical Guide to Splines (2001), chapter IV (from memory).
    """

    origin: float
    per_step: float
    pieces: tuple[Piece, ...]
    piece_array: FloatArray

    def value(self, at: float) -> float:
        """Value at one point; the caller has made sure that it lies within the knots.

        Parameters
        ----------
        at : [unit of the variable], first to last knot

        Returns
        -------
        [unit of the values]
        """
        position = (at - self.origin) * self.per_step
        index = int(position)
        a, b, c, d = self.pieces[index]
        t = position - index
        return a + t * (b + t * (c + t * d))

    def slope(self, at: float) -> float:
        """Derivative at one point.

        Parameters
        ----------
        at : [unit of the variable], first to last knot

        Returns
        -------
        [unit of the values per unit of the variable]
        """
        position = (at - self.origin) * self.per_step
        index = int(position)
        _, b, c, d = self.pieces[index]
        t = position - index
        return (b + t * (2.0 * c + t * 3.0 * d)) * self.per_step

    def value_and_slope(self, at: float) -> tuple[float, float]:
        """`value` and `slope` at one point.

        Parameters
        ----------
        at : [unit of the variable], first to last knot

        Returns
        -------
        [unit of the values] and [unit of the values per unit of the variable]
        """
        position = (at - self.origin) * self.per_step
        index = int(position)
        a, b, c, d = self.pieces[index]
        t = position - index
        return a + t * (b + t * (c + t * d)), (b + t * (2.0 * c + t * 3.0 * d)) * self.per_step

    def values(self, at: FloatArray) -> FloatArray:
        """Values at many points; the same arithmetic in the same order as `value`.

        Parameters
        ----------
        at : [unit of the variable], any shape, first to last knot

        Returns
        -------
        [unit of the values], of the same shape
        """
        position = (at - self.origin) * self.per_step
        index = position.astype(np.intp)
        t = position - index
        a, b, c, d = self.piece_array[:, index]
        result: FloatArray = a + t * (b + t * (c + t * d))
        return result


def cubic_table(low: float, high: float, knot_values: Sequence[float], knot_slopes: Sequence[float]) -> CubicTable:
    """Table from values and slopes at evenly spaced knots.

    Parameters
    ----------
    low, high : [unit of the variable], first and last knot, in order
    knot_values : [unit of the values], at least two
    knot_slopes : [unit of the values per knot interval], as many

    Returns
    -------
    [unit of the values], a table from low to high

    Raises
    ------
    ValueError
        the two lists do not fit one another, or the ends are not in order

    References
    ----------
    Cubic Hermite form, e.g. de Boor, A Practical Guide to Splines (2001), chapter IV (from memory).

    Examples
    --------
    >>> cubic_table(0.0, 2.0, [0.0, 1.0, 4.0], [0.0, 2.0, 4.0]).value(1.5)
    2.25
    """
    values = np.asarray(knot_values, dtype=np.float64)
    slopes = np.asarray(knot_slopes, dtype=np.float64)
    if len(values) < 2 or len(values) != len(slopes) or not low < high:
        raise ValueError("a cubic table needs two knots or more, one slope each, and ends in order")
    start, end, start_slope, end_slope = values[:-1], values[1:], slopes[:-1], slopes[1:]
    pieces = np.zeros((4, len(values)))
    pieces[0], pieces[1] = values, slopes
    pieces[2, :-1] = 3.0 * (end - start) - 2.0 * start_slope - end_slope
    pieces[3, :-1] = 2.0 * (start - end) + start_slope + end_slope
    per_step = (len(values) - 1) / (high - low)
    rows: list[list[float]] = pieces.T.tolist()
    return CubicTable(low, per_step, tuple((a, b, c, d) for a, b, c, d in rows), pieces)
