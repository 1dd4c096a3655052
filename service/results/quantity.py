"""A computed value with its unit kind and uncertainty, in SI."""

from typing import ClassVar

from service.results.declare import sent, sent_if_known
from service.results.record import Record, field


class Quantity(Record):
    """A value with its unit; the uncertainty is a 95% half-width (k = 2) and absent where it is not known.

    value and uncertainty in SI of `kind` (`service.results.units.KINDS`).
    """

    value: float = field(metadata=sent("number", "The value in `unit`.", said="written"))
    kind: str
    unit: ClassVar[str] = field(
        metadata=sent(
            "text",
            "Unit code, as in `units` of the answer, or a fixed one (V, A, ohm, Mohm, uF, %, 1 ...).",
            said="unit",
        )
    )
    uncertainty: float | None = field(
        default=None, metadata=sent_if_known("number", "95% half-width (k = 2) in `unit`.", said="width")
    )
