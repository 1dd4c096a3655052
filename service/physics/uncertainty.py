"""Values that carry the uncertainty of the readings they come from, correlations included.

Each value keeps, for every independent reading behind it, the share of that reading's uncertainty: sensitivity
times half-width, with its sign. Two values from one gauge therefore share that gauge's error, and it cancels or
adds up as it does in nature. Source: JCGM 100:2008 (GUM), clauses 5.1.2 (independent inputs, equation 10) and
5.1.3 (sensitivity coefficients); keeping the shares apart is the covariance of clause F.1.2.3. Shares are in 95 %
half-widths (k = 2) throughout, which the linear law carries over unchanged.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import hypot

from service.results.quantity import Quantity
from service.results.record import Record, field


class Uncertain(Record):
    """A value in SI and the signed share [same unit] of each independent source in its uncertainty."""

    value: float
    shares: Mapping[str, float] = field(default_factory=dict)

    @property
    def half_width(self) -> float:
        """95 % half-width: root of the sum of the squared shares.

        Returns
        -------
        [unit of the value]

        References
        ----------
        JCGM 100:2008 (GUM), equation 10.
        """
        return hypot(*self.shares.values())

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources, the one that counts most first (by name where two count alike)."""
        shares = self.shares
        return tuple(shares if len(shares) < 2 else sorted(shares, key=lambda at: (-abs(shares[at]), at)))

    def __add__(self, other: Uncertain | float) -> Uncertain:
        """Sum; shares of one source add with their signs."""
        if not isinstance(other, Uncertain):
            return Uncertain(self.value + other, self.shares)
        shares = dict(self.shares)
        for source, share in other.shares.items():
            shares[source] = shares.get(source, 0.0) + share
        return Uncertain(self.value + other.value, shares)

    def __sub__(self, other: Uncertain | float) -> Uncertain:
        """Difference; an error both have in common cancels."""
        if not isinstance(other, Uncertain):
            return Uncertain(self.value - other, self.shares)
        shares = dict(self.shares)
        for source, share in other.shares.items():
            shares[source] = shares.get(source, 0.0) - share
        return Uncertain(self.value - other.value, shares)

    def __mul__(self, other: Uncertain | float) -> Uncertain:
        """Product."""
        if not isinstance(other, Uncertain):
            return combine(self.value * other, (other,), self)
        return combine(self.value * other.value, (other.value, self.value), self, other)

    def __truediv__(self, other: Uncertain | float) -> Uncertain:
        """Quotient. Raises: ZeroDivisionError where the divisor is zero."""
        if not isinstance(other, Uncertain):
            return combine(self.value / other, (1.0 / other,), self)
        slopes = (1.0 / other.value, -self.value / other.value**2)
        return combine(self.value / other.value, slopes, self, other)

    def quantity(self, kind: str) -> Quantity:
        """As a quantity of an answer.

        Parameters
        ----------
        kind : the kind of quantity, which says the unit on the wire

        Returns
        -------
        [SI unit of the kind]

        References
        ----------
        JCGM 100:2008 (GUM), clause 6.2.
        """
        return Quantity(self.value, kind, self.half_width)


def read(source: str, value: float, half_width: float) -> Uncertain:
    """A reading with its own instrument's half-width.

    Parameters
    ----------
    source : the name of what was read, e.g. its pointer
    value : [SI unit of the reading]
    half_width : [SI unit of the reading], 95 %, 0 or more

    Returns
    -------
    [SI unit of the reading]

    References
    ----------
    JCGM 100:2008 (GUM), clause 6.2.

    Examples
    --------
    >>> read("/air/return_dry_bulb", 300.0, 0.5).half_width
    0.5
    """
    return Uncertain(value, {source: half_width})


def combine(value: float, slopes: Sequence[float], *inputs: Uncertain) -> Uncertain:
    """A value worked out from the inputs' values.

    Parameters
    ----------
    value : [unit of the value]
    slopes : [unit of the value per unit of the input], its partial derivatives there, one an input
    inputs : [unit of each input]

    Returns
    -------
    [unit of the value]

    References
    ----------
    JCGM 100:2008 (GUM), clauses 5.1.3 and F.1.2.3.

    Examples
    --------
    >>> combine(2.0, (1.0, -1.0), read("a", 5.0, 3.0), read("b", 3.0, 4.0)).half_width
    5.0
    """
    shares: dict[str, float] = {}
    for slope, item in zip(slopes, inputs, strict=True):
        for source, share in item.shares.items():
            shares[source] = shares.get(source, 0.0) + slope * share
    return Uncertain(value, shares)


def propagate(formula: Callable[..., float], *inputs: Uncertain) -> Uncertain:
    """The formula of the inputs, with slopes by finite differences.

    The step is a tenth of each input's half-width, downward and upward. Where the formula answers on one side only
    (the edge of a table), that side alone is taken.

    Parameters
    ----------
    formula : takes as many values as there are inputs
    inputs : [unit of each input]

    Returns
    -------
    [unit of the formula]

    Raises
    ------
    Exception
        what the formula raises at the values themselves

    References
    ----------
    JCGM 100:2008 (GUM), clause 5.1.3 note 2.

    Examples
    --------
    >>> round(propagate(lambda amps, ohms: amps * ohms, read("a", 2.0, 0.3), read("b", 4.0, 0.8)).half_width, 6)
    2.0
    """
    (found,) = propagate_all(lambda *values: (formula(*values),), *inputs)
    return found


def propagate_all(formula: Callable[..., Sequence[float]], *inputs: Uncertain) -> tuple[Uncertain, ...]:
    """As `propagate`, for a formula that gives several values of one state: it is asked once for all of them.

    Parameters
    ----------
    formula : takes as many values as there are inputs
    inputs : [unit of each input]

    Returns
    -------
    [unit of each value of the formula]

    Raises
    ------
    Exception
        what the formula raises at the values themselves

    References
    ----------
    JCGM 100:2008 (GUM), clause 5.1.3 note 2.
    """
    values = [item.value for item in inputs]
    middle = formula(*values)
    by_input = [
        _slopes(formula, values, index, item.half_width / 10.0, middle) for index, item in enumerate(inputs)
    ]
    return tuple([combine(value, slopes, *inputs) for value, *slopes in zip(middle, *by_input, strict=True)])


def _slopes(
    formula: Callable[..., Sequence[float]], values: list[float], index: int, step: float, middle: Sequence[float]
) -> list[float]:
    """The slope of each result in one of the values, which are moved and put back."""
    at = values[index]
    ends: list[Sequence[float] | None] = []
    for moved in (at - step, at + step) if step else ():
        values[index] = moved
        try:
            ends.append(formula(*values))
        except ValueError:
            ends.append(None)
    values[index] = at
    low, high = ends or (None, None)
    if low is None:
        return [0.0] * len(middle) if high is None else _rise(middle, high, step)
    return _rise(low, middle, step) if high is None else _rise(low, high, 2.0 * step)


def _rise(low: Sequence[float], high: Sequence[float], over: float) -> list[float]:
    return [(above - below) / over for below, above in zip(low, high, strict=True)]
