"""Marshmallow fields of the wire: strict types, one conversion to SI, messages a stranger can act on."""

import datetime
import re
import sys
from typing import Any

from marshmallow import ValidationError, fields

from service.knowledge.rule_book import book
from service.results.declare import Member
from service.results.place import PLACE
from service.results.refusal import Meaning, Phrase, Said, phrase
from service.results.resistance import Resistance
from service.results.units import FIXED, Units
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
            return self.fault("document.required", phrase("document.required"))
        return self.fault("document.null", phrase("document.null-reading"))

    def fault(self, code: str, detail: Said, allowed: tuple[str | Phrase, ...] = ()) -> ValidationError:
        """A refusal of this member: what to change, and what the member is in words of the trade."""
        return refused(Fault((detail, meaning(self)), code, allowed))


def refused(fault: Fault) -> ValidationError:
    """The exception of marshmallow that carries a fault, which it passes on without reading it."""
    return ValidationError([fault])


def meaning(field: fields.Field[Any]) -> Said:
    """What a member is in words of the trade, to stand behind what is wrong with it."""
    said = field.metadata.get("description")
    made = getattr(field.parent, "made", None)
    if not said or made is None:
        return said or ""
    return Meaning(made.__name__, field.name or "", said)


def is_number(value: Any) -> bool:
    """True for a JSON number; true and false are no numbers."""
    return type(value) is float or type(value) is int


class Reading(Strict):
    """A number in the caller's unit, SI inside."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> float:
        if not is_number(value):
            raise self.fault("document.not-a-number", self.number_detail(), ("number",))
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

    def number_detail(self) -> Phrase:
        """That it must be a number in the document's unit for this reading."""
        unit = current_scale().units.code(self.declared.kind)
        return phrase("document.number") if unit == "1" else phrase("document.number-in", unit=unit)

    def allowed_range(self) -> Phrase:
        """The range in the caller's units."""
        scale, kind, low, high = current_scale(), self.declared.kind, self.declared.low, self.declared.high
        if low is None:
            return phrase("range.up-to", high=scale.limit(high or 0.0, kind, lowest=False))
        if high is None:
            return phrase("range.from", low=scale.limit(low, kind, lowest=True))
        return between(scale.limit(low, kind, lowest=True), scale.limit(high, kind, lowest=False))

    def range_detail(self) -> Phrase:
        """What to check when a number is out of range."""
        return phrase("document.out-of-range", range=self.allowed_range())


def between(low: str, high: str) -> Phrase:
    """A range from one written value to another."""
    return phrase("range.between", low=low, high=high)


def slack(limit: float, kind: str) -> float:
    """Room for the rounding of a unit conversion, so that a value on the limit is accepted.

    Kinds whose unit never changes need none, nor does zero where every unit begins there, so that the limits of
    the contract are exact.
    """
    exact = kind in FIXED or (limit == 0.0 and Units().unit(kind).offset == 0.0)
    return 0.0 if exact else 1e-9 * max(1.0, abs(limit))


class Integer(Strict):
    """A whole number."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> int:
        low, high = self.declared.low or 0.0, self.declared.high or 0.0
        allowed = between(f"{low:.0f}", f"{high:.0f}")
        if type(value) is not int:
            detail = phrase("document.whole-number", range=allowed)
            raise self.fault("document.not-an-integer", detail, (allowed,))
        if not low <= value <= high:
            raise self.fault("document.out-of-range", phrase("document.accepted", range=allowed), (allowed,))
        return value


class Flag(Strict):
    """true or false."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> bool:
        if type(value) is not bool:
            raise self.fault("document.not-a-boolean", phrase("document.true-or-false"), ("true", "false"))
        return value


class Choice(Strict):
    """One of a closed list; a word is not a number and a number is not a word."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> Any:
        if type(value) not in (str, int) or value not in self.declared.choices:
            raise self.not_a_choice(value, tuple(str(item) for item in self.declared.choices))
        return value

    def not_a_choice(self, value: Any, allowed: tuple[str, ...]) -> ValidationError:
        """The refusal of a word that is not in the list."""
        detail = (phrase("document.one-of", words=", ".join(allowed)), which_word(value, self.declared.choices))
        return self.fault("document.not-a-choice", detail, allowed)


class Choices(Choice):
    """A list of words, none twice; each word that is refused is pointed at by its place."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> tuple[Any, ...]:
        if type(value) is not list:
            raise self.fault("document.not-a-list", phrase("document.list"), ("list",))
        most = self.declared.length or 0
        if len(value) > most:
            detail = phrase("document.words", most=str(most))
            raise self.fault("document.list-too-long", detail, (phrase("range.up-to", high=str(most)),))
        wrong: dict[int, list[Any]] = {}
        for index, item in enumerate(value):
            try:
                super()._deserialize(item, attr, data, **details)
                if item in value[:index]:
                    raise self.fault("document.repeated-word", phrase("document.repeated-word"))
            except ValidationError as refusal:
                wrong[index] = list(refusal.messages)
        if wrong:
            raise ValidationError(wrong)
        return tuple(value)


class Text(Strict):
    """A short text without control characters."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        most = self.declared.length or 0
        if type(value) is not str:
            raise self.fault("document.not-a-text", phrase("document.text"), ("text",))
        if not 0 < len(value) <= most or not value.isprintable():
            allowed = phrase("range.characters", most=str(most))
            raise self.fault("document.text-length", phrase("document.text-length", most=str(most)), (allowed,))
        return value


class Label(Text):
    """A short name that may be written as a text or as a whole number."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> Any:
        name = super()._deserialize(str(value) if type(value) is int else value, attr, data, **details)
        choices = {str(item): item for item in self.declared.choices}
        if not choices:
            return value
        if name not in choices:
            detail = (phrase("document.one-of", words=", ".join(choices)), which_word(value, choices))
            raise self.fault("document.not-a-choice", detail, tuple(choices))
        return choices[name]


class PlaceCode(Text):
    """The code of a place, in capitals; whether its rules are held is not asked here."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> str:
        code = value.upper() if type(value) is str else super()._deserialize(value, attr, data, **details)
        if not PLACE.fullmatch(code):
            held, others = book().held, phrase("range.other-places")
            detail = phrase("document.place", codes=", ".join(held), others=others)
            raise self.fault("document.not-a-place", detail, (*held, others))
        return code


class Date(Strict):
    """A calendar date, ISO 8601 (YYYY-MM-DD)."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        try:
            if type(value) is not str or len(value) != 10:
                raise ValueError
            return datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            raise self.fault("document.not-a-date", phrase("document.date"), ("YYYY-MM-DD",)) from None


class DateTime(Strict):
    """A moment, RFC 3339 with its offset; inside in UTC and of one form, so that texts compare as moments do."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> str:
        try:
            if type(value) is not str or not _MOMENT.fullmatch(value):
                raise ValueError
            moment = datetime.datetime.fromisoformat(value).astimezone(datetime.UTC)
            return moment.isoformat(timespec="microseconds")
        except (ValueError, OverflowError):
            allowed = ("RFC 3339 date-time",)
            raise self.fault("document.not-a-date-time", phrase("document.date-time"), allowed) from None


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
                phrase("document.resistance"),
                ('{"ohms": number}', '{"over_limit": true}'),
            )
        return Resistance(self.ohms_within(float(value["ohms"])))

    def ohms_within(self, value: float) -> float:
        """Ohms need no conversion, only the range."""
        low, high = self.declared.low or 0.0, self.declared.high or 0.0
        if not low <= value <= high:
            allowed = between(f"{low:g}", f"{high:g} ohm")
            raise self.fault("document.out-of-range", phrase("document.accepted", range=allowed), (allowed,))
        return value if value >= SMALLEST else 0.0


class PlainResistance(ResistanceField):
    """A resistance that may also be given as a plain number of ohms."""

    plain_number = True


class Numbers(Strict):
    """A list of exactly so many numbers."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **_: Any) -> tuple[float, ...]:
        most = self.declared.length
        if type(value) is not list or len(value) != most or not all(is_number(item) for item in value):
            detail, allowed = (phrase(code, most=str(most)) for code in ("document.numbers", "range.numbers"))
            raise self.fault("document.not-a-number", detail, (allowed,))
        if any(abs(item) > LARGEST_COEFFICIENT for item in value):
            allowed = between(f"-{LARGEST_COEFFICIENT:g}", f"{LARGEST_COEFFICIENT:g}")
            raise self.fault("document.out-of-range", phrase("document.each-number", range=allowed), (allowed,))
        return tuple(float(item) for item in value)
