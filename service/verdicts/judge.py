"""Comparing a reading with a limit, the same way everywhere."""

from math import isclose

from service.results.finding import Confidence

RELATIVE = 1e-9  # a reading exactly on a limit passes, whatever the conversion did to its last digit


def above(value: float, limit: float) -> bool:
    """True when value lies above limit by more than rounding."""
    return value > limit and not isclose(value, limit, rel_tol=RELATIVE)


def below(value: float, limit: float) -> bool:
    """True when value lies below limit by more than rounding."""
    return value < limit and not isclose(value, limit, rel_tol=RELATIVE)


def confidence(
    value: float, uncertainty: float, low: float | None = None, high: float | None = None
) -> Confidence:
    """borderline when a limit lies within value +- uncertainty, else firm. All in the same unit."""
    if low is not None and abs(value - low) <= uncertainty:
        return Confidence.BORDERLINE
    if high is not None and abs(value - high) <= uncertainty:
        return Confidence.BORDERLINE
    return Confidence.FIRM
