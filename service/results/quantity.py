"""A computed value with its unit kind and uncertainty, in SI."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Quantity:
    """value and uncertainty in SI of `kind`; uncertainty: 95 % half-width (k = 2), None when not known."""

    value: float
    kind: str
    uncertainty: float | None = None
