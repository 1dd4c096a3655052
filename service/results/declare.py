"""How a member of a document is declared: once, with its kind, range and meaning.

The records of the visit document are written with the functions below. The marshmallow schemas, the
OpenAPI document and the unit conversions are all made from these declarations, so a reading is described in
exactly one place.
"""

from collections.abc import Hashable
from enum import StrEnum
from functools import cache
from typing import Any

from service.results.record import Record, declared_fields, field, fields


class Member(Record):
    """What a document member may be.

    kind: a quantity of `service.results.units.KINDS`, or boolean, integer, choice, choices, text, label, place,
    date, date_time, resistance, resistance_or_number, insulation, numbers, part, parts, baseline. `low` and `high`
    are inclusive and in SI (electrical readings in V, A, ohm, microfarad, W, Hz). `part` is the record of a
    nested object or list item; `length` the most characters or items.

    Of answers alone: kinds number (a plain number), texts, quantity, range, object (a part that may be absent),
    coded (codes, each written as an object of `part`), posted (`part` as a request has it), inline (the members of
    `part` stand among these), computed.
    `said` names what writes the member where it is not sent as it stands (`schemas/sayings.py`); `decimals` is how
    many a number keeps; `last` puts it behind the members that are not.
    """

    kind: str
    description: str
    low: float | None = None
    high: float | None = None
    choices: tuple[str | int, ...] = ()
    part: type | None = None
    length: int | None = None
    required: bool = False
    said: str = ""
    decimals: int | None = None
    last: bool = False


def member(kind: str, description: str, **details: Any) -> Any:
    """Declare an optional member; absent members are None (lists are empty)."""
    declared = Member(kind, description, **details)
    metadata = {"member": declared}
    if kind in ("parts", "numbers", "choices"):
        return field(default=(), metadata=metadata)
    if kind == "part":
        assert declared.part is not None
        return field(default=declared.part(), metadata=metadata)  # every absent part is this one empty record
    return field(default=None, metadata=metadata)


def sent(kind: str, description: str, **details: Any) -> dict[str, Member]:
    """Metadata of a member that every answer has: `code: str = field(metadata=sent("text", "..."))`.

    A member that is only said, not held, is a ClassVar with such a field.
    """
    return {"member": Member(kind, description, required=True, **details)}


def sent_if_known(kind: str, description: str, **details: Any) -> dict[str, Member]:
    """Metadata of a member of an answer that is absent where it is None or empty."""
    return {"member": Member(kind, description, **details)}


def listed(where: str) -> dict[str, Member]:
    """Metadata of a code of one of the lists; new codes come with new versions."""
    return sent("text", f"Code of {where}; the list grows, so let unknown codes pass.")


def growing(description: str, *choices: str) -> dict[str, Member]:
    """Metadata of a word of an answer whose list may grow inside a version: a text with its words, no enum."""
    return sent("text", f"{description} The list grows, so let unknown words pass.", choices=choices)


def words_of(of: type[StrEnum]) -> tuple[str, ...]:
    """The words of an enumeration."""
    return tuple(str(item) for item in of)


def flag(description: str) -> Any:
    """Declare an optional yes/no member."""
    return member("boolean", description)


def choice(description: str, *choices: str | int) -> Any:
    """Declare an optional member that takes one word (or whole number) of a closed list."""
    return member("choice", description, choices=choices)


def moment(description: str) -> Any:
    """Declare an optional date and time (RFC 3339); inside it is text in UTC that compares as the moment does."""
    return member("date_time", description)


def part(of: type, description: str) -> Any:
    """Declare a nested object; absent objects are empty, never None."""
    return member("part", description, part=of)


def parts(of: type, description: str, most: int) -> Any:
    """Declare a list of nested objects of at most `most` items."""
    return member("parts", description, part=of, length=most)


def declared_members(of: type) -> tuple[tuple[str, Member], ...]:
    """Names and declarations of a record of a document or an answer, in the order in which they are written."""
    return _declared(of)


@cache
def _declared(of: Hashable) -> tuple[tuple[str, Member], ...]:
    assert isinstance(of, type)
    found = ((item.name, item.metadata.get("member")) for item in declared_fields(of))
    known = [(name, declared) for name, declared in found if declared is not None]
    return tuple(sorted(known, key=lambda pair: pair[1].last))


def is_empty(instance: Any) -> bool:
    """True when no member of a record of a document has been given."""
    for name, default, is_part in _defaults(instance.__class__):
        value = getattr(instance, name)
        if not (value is default or (is_empty(value) if is_part else value == default)):
            return False
    return True


@cache
def _defaults(of: Hashable) -> tuple[tuple[str, Any, bool], ...]:
    """Name of each member, what it is when it has not been given, and whether it is a part."""
    assert isinstance(of, type)
    return tuple((item.name, item.default, isinstance(item.default, Record)) for item in fields(of))
