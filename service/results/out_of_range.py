"""A value that lies outside the range in which a relation is known."""

from __future__ import annotations


class OutOfRange(ValueError):
    """A quantity lies outside the range for which an answer can be given.

    Carries the allowed range so that whoever meets the caller can say what would have been accepted.

    Attributes:
        quantity: what was out of range, e.g. ``"pressure"``.
        value: the refused value, in SI.
        low: lowest accepted value, in SI.
        high: highest accepted value, in SI.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float) -> None:
        super().__init__(f"{quantity} {value:g} is outside {low:g} to {high:g}")
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high

    def __reduce__(self) -> tuple[type[OutOfRange], tuple[str, float, float, float]]:
        return OutOfRange, (self.quantity, self.value, self.low, self.high)
