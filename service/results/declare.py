"""How a member of a document is declared: once, with its kind, range and meaning.

The dataclasses of the visit document are written with the functions below. The marshmallow schemas, the
OpenAPI document and the unit conversions are all made from these declarations, so a reading is described in
exactly one place.
"""

from collections.abc import Callable, Hashable
from dataclasses import MISSING, dataclass, field, fields
from functools import cache
from typing import Any


@dataclass(frozen=True, slots=True)
class Member:
    """What a document member may be.

    kind: a quantity of `service.results.units.KINDS`, or boolean, integer, choice, choices, text, label, place,
    date, date_time, resistance, resistance_or_number, insulation, numbers, part, parts, baseline. `low` and `high`
    are inclusive and in SI (electrical readings in V, A, ohm, microfarad, W, Hz). `part` is the dataclass of a
    nested object or list item; `length` the most characters or items.
    """

    kind: str
    description: str
    low: float | None = None
    high: float | None = None
    choices: tuple[str | int, ...] = ()
    part: type | None = None
    length: int | None = None
    required: bool = False


def member(kind: str, description: str, **details: Any) -> Any:
    """Declare an optional member; absent members are None (lists are empty)."""
    declared = Member(kind, description, **details)
    metadata = {"member": declared}
    if kind in ("parts", "numbers", "choices"):
        return field(default=(), metadata=metadata)
    if kind == "part":
        assert declared.part is not None
        return field(default_factory=_shared_empty(declared.part), metadata=metadata)
    return field(default=None, metadata=metadata)


def _shared_empty(of: type) -> Callable[[], Any]:
    """Absent parts are all the same empty instance: it is frozen, and a document has dozens of them."""
    empty = of()
    return lambda: empty


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
    """Names and declarations of a document dataclass, in order."""
    return _declared(of)


@cache
def _declared(of: Hashable) -> tuple[tuple[str, Member], ...]:
    assert isinstance(of, type)
    found = ((item.name, item.metadata.get("member")) for item in fields(of))
    return tuple((name, declared) for name, declared in found if declared is not None)


def is_empty(instance: Any) -> bool:
    """True when no member of a document dataclass has been given."""
    for name, default, is_part in _defaults(instance.__class__):
        value = getattr(instance, name)
        if not (value is default or (is_empty(value) if is_part else value == default)):
            return False
    return True


@cache
def _defaults(of: Hashable) -> tuple[tuple[str, Any, bool], ...]:
    """Name of each member, what it is when it has not been given, and whether it is a part."""
    assert isinstance(of, type)
    return tuple(
        (item.name, item.default, False)
        if item.default_factory is MISSING
        else (item.name, item.default_factory(), True)
        for item in fields(of)
    )
