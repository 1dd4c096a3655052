"""Turns a finely traced line into the few knots of a cubic table; a rebuild gives the same bytes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.interpolate import CubicSpline

KNOTS = 64
DIGITS = 11
"""Significant digits kept: 1e-11 is a thousandfold better than the tables need and hides the last bits, in
which two machines may differ."""

Knots = dict[str, list[float]]


def rounded(value: float) -> float:
    """Return the value to the digits that are kept."""
    return float(f"{value:.{DIGITS}g}")


def knots(at: Sequence[float], values: Sequence[float], low: float, high: float, count: int = KNOTS) -> Knots:
    """Return values and slopes (per interval) at evenly spaced knots of the spline through all points."""
    order = np.argsort(at)
    spline = CubicSpline(np.asarray(at)[order], np.asarray(values)[order])
    places = np.linspace(low, high, count)
    slopes = spline(places, 1) * (high - low) / (count - 1)
    return {
        "knot_values": [rounded(value) for value in spline(places)],
        "knot_slopes": [rounded(slope) for slope in slopes],
    }
