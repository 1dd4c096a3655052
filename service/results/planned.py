"""What work is planned with: parts by generic rating, minutes, refrigerant, tools, and sentences of the notes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from service.results.declare import sent, sent_if_known
from service.results.finding import Value
from service.results.quantity import Quantity
from service.results.record import Record, field


class Sentence(Record):
    """A sentence of the locale files, by code, with the values it mentions."""

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)


class RatedNumbers(Record):
    """The numbers of a rating, where the visit tells them.

    volts: a capacitor's least rating, else the nominal supply.
    """

    microfarads: tuple[float, ...] = field(
        default=(),
        metadata=sent_if_known("capacitances", "Capacitance of each section, the largest first."),
    )
    volts: float | None = field(
        default=None, metadata=sent_if_known("number", "Rated volts, of a capacitor the least.")
    )
    amps: float | None = field(
        default=None,
        metadata=sent_if_known("number", "Rated or full-load amps; of a contactor the least that it must carry."),
    )
    poles: int | None = field(default=None, metadata=sent_if_known("integer", "Number of poles.", low=1, high=4))


class PartNeeded(Record):
    """A part by its generic rating.

    rating: sentences of the locale files, joined by commas.
    """

    SCHEMA: ClassVar[str] = "Part"
    code: str = field(metadata=sent("text", "Code of the part."))
    title: ClassVar[str] = field(metadata=sent("text", "The part in a few words.", said="part"))
    rating: tuple[Sentence, ...] = field(
        default=(),
        metadata=sent_if_known("text", "Its rating, where one follows from what was posted.", said="rating"),
    )
    numbers: RatedNumbers | None = field(
        default=None, metadata=sent_if_known("inline", "The numbers of its rating.", part=RatedNumbers)
    )


class Minutes(Record):
    """A range of minutes."""

    low: float = field(metadata=sent("number", "At best."))
    high: float = field(metadata=sent("number", "At worst."))


class Tool(Record):
    """A tool or instrument."""

    code: str = field(metadata=sent("text", "Code of GET /v1/tools."))
    title: ClassVar[str] = field(metadata=sent("text", "The tool in a few words.", said="tool"))


class RefrigerantLoad(Record):
    """Whether refrigerant work is likely, and with what.

    factory_charge: in kg, where the nameplate tells; it is what to carry.
    """

    likely: bool = field(metadata=sent("boolean", "Refrigerant work is likely."))
    probability: float = field(
        metadata=sent(
            "number", "Probability that the repair opens the refrigerant circuit.", low=0.0, high=1.0, decimals=4
        )
    )
    designation: str | None = field(
        default=None, metadata=sent_if_known("text", "ASHRAE 34 designation, where known.")
    )
    factory_charge: Quantity | None = field(
        default=None, metadata=sent_if_known("object", "From the nameplate, where known.", part=Quantity)
    )
    carry: ClassVar[Quantity | None] = field(
        metadata=sent_if_known(
            "object",
            "How much to carry, where refrigerant work is likely and the charge known.",
            part=Quantity,
            said="carry",
        )
    )
    recovery_cylinder: bool = field(
        default=False, metadata=sent("boolean", "A cylinder to recover into is needed.")
    )
