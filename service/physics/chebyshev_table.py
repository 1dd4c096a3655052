"""A smooth function of two variables, kept as a product of Chebyshev polynomials."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos

import numpy as np

from service.physics.cubic_table import FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class ChebyshevTable:
    """Sum over m, n of coefficient[m, n] Tm(x) Tn(y) for x and y in -1..1.

    Source: Mason and Handscomb, Chebyshev Polynomials (2003), section 6 (from memory).
    """

    coefficients: FloatArray

    def value(self, x: float, y: float) -> float:
        """Return the value at one point."""
        rows, columns = self.coefficients.shape
        return float(_polynomials(x, rows) @ self.coefficients @ _polynomials(y, columns))

    def along(self, x: float) -> FloatArray:
        """Return the coefficients in y that are left when x is held."""
        result: FloatArray = _polynomials(x, len(self.coefficients)) @ self.coefficients
        return result


def series_value(coefficients: FloatArray, y: float) -> float:
    """Return the value of a Chebyshev series at one point of -1..1."""
    return float(coefficients @ _polynomials(y, len(coefficients)))


def _polynomials(at: float, count: int) -> FloatArray:
    # Tn(x) = cos(n arccos x); rounding may put x a hair outside -1..1.
    result: FloatArray = np.cos(np.arange(count) * acos(min(1.0, max(-1.0, at))))
    return result
