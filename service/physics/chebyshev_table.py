"""A smooth function of two variables, kept as a product of Chebyshev polynomials."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import acos

import numpy as np

from service.physics.cubic_table import FloatArray

Series = tuple[float, ...]
_ORDERS = np.arange(64)


@dataclass(frozen=True, slots=True, eq=False)
class ChebyshevTable:
    """Sum over m, n of coefficient[m, n] Tm(x) Tn(y) for x and y in -1..1.

    Source: Mason and Handscomb, Chebyshev Polynomials (2003), section 6 (from memory).
    """

    coefficients: FloatArray

    def value(self, x: float, y: float) -> float:
        """Return the value at one point."""
        return series_value(self.along(x), y)

    @lru_cache(maxsize=256)  # noqa: B019 - the tables stay, and a formula is asked again and again at one pressure
    def along(self, x: float) -> Series:
        """Return the coefficients in y that are left when x is held."""
        # Tn(x) = cos(n arccos x); rounding may put x a hair outside -1..1.
        polynomials = np.cos(_ORDERS[: len(self.coefficients)] * acos(min(1.0, max(-1.0, x))))
        return tuple((polynomials @ self.coefficients).tolist())


def series_value(coefficients: Series, y: float) -> float:
    """Return the value of a Chebyshev series at one point of -1..1, by Clenshaw's recurrence (same section)."""
    twice, last, before = 2.0 * y, 0.0, 0.0
    for coefficient in coefficients[:0:-1]:
        last, before = coefficient + twice * last - before, last
    return coefficients[0] + y * last - before
