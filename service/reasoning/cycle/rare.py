"""When readings are rarer than any simulated unit's."""

from functools import cache
from math import sqrt

# Standard normal quantile of 99 %.
RARE = 2.326


@cache
def rare_distance(count: int) -> float:
    """99 % point of chi-square (Wilson and Hilferty 1931) with a number of degrees of freedom."""
    part = 2.0 / (9.0 * count)
    return float(count * (1.0 - part + RARE * sqrt(part)) ** 3)
