"""Values that carry the uncertainty of the readings they come from, correlations included.

Each value keeps, for every independent reading behind it, the share of that reading's uncertainty: sensitivity
times half-width, with its sign. Two values from one gauge therefore share that gauge's error, and it cancels or
adds up as it does in nature. Source: JCGM 100:2008 (GUM), clauses 5.1.2 (independent inputs, equation 10) and
5.1.3 (sensitivity coefficients); keeping the shares apart is the covariance of clause F.1.2.3. Shares are in 95 %
half-widths (k = 2) throughout, which the linear law carries over unchanged.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt

from service.results.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A value in SI and the signed share [same unit] of each independent source in its uncertainty."""

    value: float
    shares: Mapping[str, float] = field(default_factory=dict)

    @property
    def half_width(self) -> float:
        """95 % half-width: root of the sum of the squared shares."""
        return sqrt(sum([share**2 for share in self.shares.values()]))

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources, the one that counts most first (by name where two count alike)."""
        return tuple(sorted(self.shares, key=lambda source: (-abs(self.shares[source]), source)))

    def __add__(self, other: Uncertain | float) -> Uncertain:
        """Sum; shares of one source add with their signs."""
        return combine(lambda a, b: a + b, (1.0, 1.0), self, _uncertain(other))

    def __sub__(self, other: Uncertain | float) -> Uncertain:
        """Difference; an error both have in common cancels."""
        return combine(lambda a, b: a - b, (1.0, -1.0), self, _uncertain(other))

    def __mul__(self, other: Uncertain | float) -> Uncertain:
        """Product."""
        right = _uncertain(other)
        return combine(lambda a, b: a * b, (right.value, self.value), self, right)

    def __truediv__(self, other: Uncertain | float) -> Uncertain:
        """Quotient. Raises: ZeroDivisionError where the divisor is zero."""
        right = _uncertain(other)
        slopes = (1.0 / right.value, -self.value / right.value**2)
        return combine(lambda a, b: a / b, slopes, self, right)

    def quantity(self, kind: str) -> Quantity:
        """As a quantity of an answer."""
        return Quantity(self.value, kind, self.half_width)


def read(source: str, value: float, half_width: float) -> Uncertain:
    """A reading with its own instrument's half-width."""
    return Uncertain(value, {source: half_width})


def combine(formula: Callable[..., float], slopes: Sequence[float], *inputs: Uncertain) -> Uncertain:
    """The formula of the inputs' values; slopes: its partial derivatives there, one an input."""
    shares: dict[str, float] = {}
    for slope, item in zip(slopes, inputs, strict=True):
        for source, share in item.shares.items():
            shares[source] = shares.get(source, 0.0) + slope * share
    return Uncertain(formula(*[item.value for item in inputs]), shares)


def propagate(formula: Callable[..., float], *inputs: Uncertain) -> Uncertain:
    """The formula of the inputs, with slopes by finite differences.

    The step is a tenth of each input's half-width, downward and upward (JCGM 100:2008, 5.1.3 note 2). Where the
    formula answers on one side only (the edge of a table), that side alone is taken. Raises: what the formula
    raises at the values themselves.
    """
    values = [item.value for item in inputs]
    middle = formula(*values)
    slopes = [_slope(formula, values, index, item.half_width / 10.0, middle) for index, item in enumerate(inputs)]
    return combine(lambda *_: middle, slopes, *inputs)


def _slope(formula: Callable[..., float], values: list[float], index: int, step: float, middle: float) -> float:
    """The slope in one of the values, which are moved and put back."""
    if step == 0.0:
        return 0.0
    at = values[index]
    ends: list[float | None] = []
    for moved in (at - step, at + step):
        values[index] = moved
        try:
            ends.append(formula(*values))
        except ValueError:
            ends.append(None)
    values[index] = at
    low, high = ends
    if low is None:
        return 0.0 if high is None else (high - middle) / step
    return (low - middle) / -step if high is None else (high - low) / (2.0 * step)


def _uncertain(value: Uncertain | float) -> Uncertain:
    return value if isinstance(value, Uncertain) else Uncertain(value)
