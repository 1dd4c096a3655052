"""Marshmallow fields of the wire: strict types, one conversion to SI, messages a stranger can act on."""

import datetime
import re
import sys
from typing import Any

from marshmallow import ValidationError, fields

from service.knowledge.rule_book import book
from service.results.declare import Member
from service.results.place import PLACE
from service.results.resistance import Resistance
from service.results.units import FIXED
from service.schemas.faults import Fault, which_word
from service.schemas.scale import current_scale

_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}[Tt]\d{2}:\d{2}:\d{2}(\.\d{1,6})?([Zz]|[+-]\d{2}:\d{2})", re.ASCII)
LARGEST = sys.float_info.max
"""A conversion that leaves the numbers is out of range, also where a reading has no limit of its own."""


SMALLEST = 1e-9
"""What is nearer to zero, in SI, is zero: no instrument shows it, and its reciprocal leaves the numbers."""
LARGEST_COEFFICIENT = 1e9


class Strict(fields.Field[Any]):
    """A field that knows its declaration and refuses rather than converts."""

    def __init__(self, declared: Member, **details: Any) -> None:
        super().__init__(required=declared.required, metadata={"description": declared.description}, **details)
        self.declared = declared

    def make_error(self, key: str, **_: Any) -> ValidationError:
        """marshmallow's own complaints (absent, null), in our form."""
        if key == "required":
            return self.fault("document.required", "This member is required.")
        return self.fault("document.null", "null is not a value: leave the member out when nothing was read.")

    def fault(self, code: str, detail: str, allowed: tuple[str, ...] = ()) -> ValidationError:
        """A refusal of this member: what to change, and what the member is in words of the trade."""
        return ValidationError([Fault(f"{detail} {self.declared.description}", code, allowed)])


def is_number(value: Any) -> bool:
    """True for a JSON number; true and false are no numbers."""
    return type(value) is float or type(value) is int


class Reading(Strict):
    """A number in the caller's unit, SI inside."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> float:
        if not is_number(value):
            raise self.fault(
                "document.not-a-number", f"A number{self.in_unit()} belongs here, without quotes.", ("number",)
            )
        try:
            return self.within(float(value))
        except OverflowError:
            raise self.fault("document.out-of-range", self.range_detail(), (self.allowed_range(),)) from None

    def within(self, value: float) -> float:
        """Convert and hold against the range of the declaration."""
        kind, low, high = self.declared.kind, self.declared.low, self.declared.high
        inside = current_scale().inside(value, kind)
        too_low = inside < (-LARGEST if low is None else low - slack(low, kind))
        if too_low or inside > (LARGEST if high is None else high + slack(high, kind)):
            raise self.fault("document.out-of-range", self.range_detail(), (self.allowed_range(),))
        return inside if abs(inside) >= SMALLEST else 0.0

    def in_unit(self) -> str:
        """The unit of the document for this reading, in words."""
        unit = current_scale().units.code(self.declared.kind)
        return "" if unit == "1" else f" in {unit}"

    def allowed_range(self) -> str:
        """The range in the caller's units."""
        scale, kind, low, high = current_scale(), self.declared.kind, self.declared.low, self.declared.high
        if low is None:
            return f"up to {scale.limit(high or 0.0, kind, lowest=False)}"
        if high is None:
            return f"from {scale.limit(low, kind, lowest=True)}"
        return f"{scale.limit(low, kind, lowest=True)} to {scale.limit(high, kind, lowest=False)}"

    def range_detail(self) -> str:
        """What to check when a number is out of range."""
        return f"Outside what is accepted, {self.allowed_range()}: check the decimal point and the unit."


def slack(limit: float, kind: str) -> float:
    """Room for the rounding of a unit conversion, so that a value on the limit is accepted.

    Kinds whose unit never changes need none, so that the limits of the contract are exact.
    """
    return 0.0 if kind in FIXED else 1e-9 * max(1.0, abs(limit))


class Integer(Strict):
    """A whole number."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> int:
        low, high = self.declared.low or 0.0, self.declared.high or 0.0
        allowed = f"{low:.0f} to {high:.0f}"
        if type(value) is not int:
            raise self.fault("document.not-an-integer", f"A whole number belongs here, {allowed}.", (allowed,))
        if not low <= value <= high:
            raise self.fault("document.out-of-range", f"{allowed} is accepted.", (allowed,))
        return value


class Flag(Strict):
    """true or false."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> bool:
        if type(value) is not bool:
            raise self.fault(
                "document.not-a-boolean", "true or false belongs here, without quotes.", ("true", "false")
            )
        return value


class Choice(Strict):
    """One of a closed list; a word is not a number and a number is not a word."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> Any:
        if type(value) not in (str, int) or value not in self.declared.choices:
            raise self.not_a_choice(value, tuple(str(item) for item in self.declared.choices))
        return value

    def not_a_choice(self, value: Any, allowed: tuple[str, ...]) -> ValidationError:
        """The refusal of a word that is not in the list."""
        detail = f"Use one of: {', '.join(allowed)}.{which_word(value, allowed)}"
        return self.fault("document.not-a-choice", detail, allowed)


class Choices(Choice):
    """A list of words, none twice."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> tuple[Any, ...]:
        if type(value) is not list:
            raise self.fault("document.not-a-list", "A list belongs here.", ("list",))
        most = self.declared.length or 0
        if len(value) > most or len({str(item) for item in value}) != len(value):
            detail = f"A list of at most {most} words belongs here, each of them once."
            raise self.fault("document.list-too-long", detail, (f"up to {most}",))
        return tuple(super(Choices, self)._deserialize(item, attr, data, **details) for item in value)


class Text(Strict):
    """A short text without control characters."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        most = self.declared.length or 0
        if type(value) is not str:
            raise self.fault("document.not-a-text", "A text in quotes belongs here.", ("text",))
        if not 0 < len(value) <= most or not value.isprintable():
            raise self.fault(
                "document.text-length", f"1 to {most} printable characters.", (f"1 to {most} characters",)
            )
        return value


class Label(Text):
    """A short name that may be written as a text or as a whole number."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> Any:
        name = super()._deserialize(str(value) if type(value) is int else value, attr, data, **details)
        choices = {str(item): item for item in self.declared.choices}
        if not choices:
            return value
        if name not in choices:
            detail = f"Use one of: {', '.join(choices)}.{which_word(value, choices)}"
            raise self.fault("document.not-a-choice", detail, tuple(choices))
        return choices[name]


class PlaceCode(Text):
    """The code of a place, in capitals; whether its rules are held is not asked here."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> str:
        code = super()._deserialize(value, attr, data, **details).upper()
        if not PLACE.fullmatch(code):
            held = (*book().held, "the ISO 3166 code of a country or of a part of one")
            raise self.fault("document.not-a-place", f"Use a code of a place: {', '.join(held)}.", held)
        return code


class Date(Strict):
    """A calendar date, ISO 8601 (YYYY-MM-DD)."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        try:
            if type(value) is not str or len(value) != 10:
                raise ValueError
            return datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            raise self.fault(
                "document.not-a-date", "A date as YYYY-MM-DD belongs here.", ("YYYY-MM-DD",)
            ) from None


class DateTime(Strict):
    """A moment, RFC 3339 with its offset; inside in UTC and of one form, so that texts compare as moments do."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        try:
            if type(value) is not str or not _MOMENT.fullmatch(value):
                raise ValueError
            moment = datetime.datetime.fromisoformat(value).astimezone(datetime.UTC)
            return moment.isoformat(timespec="microseconds")
        except (ValueError, OverflowError):
            detail = "A date and time with its offset from UTC belongs here, as 2026-07-01T14:30:00-05:00."
            raise self.fault("document.not-a-moment", detail, ("RFC 3339 date-time",)) from None


class ResistanceField(Strict):
    """{"ohms": n} or {"over_limit": true}; missing, zero and over-limit are three different things."""

    plain_number = False

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> Resistance:
        if self.plain_number and is_number(value):
            value = {"ohms": value}
        if type(value) is dict and set(value) == {"over_limit"} and value["over_limit"] is True:
            return Resistance(None)
        if type(value) is not dict or set(value) != {"ohms"} or not is_number(value["ohms"]):
            raise self.fault(
                "document.not-a-resistance",
                'A resistance is {"ohms": number}, or {"over_limit": true} when the meter shows OL.',
                ('{"ohms": number}', '{"over_limit": true}'),
            )
        return Resistance(self.ohms_within(float(value["ohms"])))

    def ohms_within(self, value: float) -> float:
        """Ohms need no conversion, only the range."""
        low, high = self.declared.low or 0.0, self.declared.high or 0.0
        if not low <= value <= high:
            allowed = f"{low:g} to {high:g} ohm"
            raise self.fault("document.out-of-range", f"{allowed} is accepted.", (allowed,))
        return value if value >= SMALLEST else 0.0


class PlainResistance(ResistanceField):
    """A resistance that may also be given as a plain number of ohms."""

    plain_number = True


class Numbers(Strict):
    """A list of exactly so many numbers."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> tuple[float, ...]:
        most = self.declared.length
        if type(value) is not list or len(value) != most or not all(is_number(item) for item in value):
            raise self.fault(
                "document.not-a-number", f"A list of {most} numbers belongs here.", (f"{most} numbers",)
            )
        if any(abs(item) > LARGEST_COEFFICIENT for item in value):
            allowed = f"-{LARGEST_COEFFICIENT:g} to {LARGEST_COEFFICIENT:g}"
            raise self.fault("document.out-of-range", f"Each number lies in {allowed}.", (allowed,))
        return tuple(float(item) for item in value)
