"""What every frozen record of this service is made from.

A record is declared as a dataclass is (names, types, defaults) and behaves as a frozen one does: it compares,
hashes and prints by its members, and nothing changes it. It is a compiled structure of `msgspec`, because more
than three hundred are declared at start and some hundreds made in every visit: a frozen dataclass compiles source
for each of its methods (1.5 ms a class; here .05) and is filled member by member (1.7 us; here .2).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any, NamedTuple, TypeVar, dataclass_transform

from msgspec import NODEFAULT, Struct, StructMeta
from msgspec import field as filled
from msgspec.structs import asdict, replace

__all__ = [
    "ABSENT",
    "Field",
    "Record",
    "asdict",
    "declared_fields",
    "field",
    "fields",
    "names_of",
    "record_of",
    "replace",
]

ABSENT: Any = NODEFAULT
"""Stands where a member has no default."""
Instance = TypeVar("Instance")


class Field(NamedTuple):
    """A member of a record; type: as written; default: ABSENT without one; metadata: what `field` was told."""

    name: str
    type: Any
    default: Any
    metadata: Mapping[str, Any]


class _Given(NamedTuple):
    default: Any
    default_factory: Any
    metadata: Mapping[str, Any]


def field(
    *,
    default: Any = ABSENT,
    default_factory: Callable[[], Any] = ABSENT,
    metadata: Mapping[str, Any] | None = None,
) -> Any:
    """A member with something to say of it, or with a default that is made anew for each record."""
    return _Given(default, default_factory, metadata or {})


class _Declaring(StructMeta):
    """Keeps what `field` was told of the members, which the compiled structure has no place for."""

    def __new__(cls, name: str, bases: tuple[type, ...], namespace: dict[str, Any], **settings: Any) -> _Declaring:
        told = {member: given for member, given in namespace.items() if isinstance(given, _Given)}
        for member, given in told.items():
            if given.default_factory is not ABSENT:
                namespace[member] = filled(default_factory=given.default_factory)
            elif given.default is not ABSENT:
                namespace[member] = given.default
            else:
                del namespace[member]
        namespace["__told__"] = {member: given.metadata for member, given in told.items()}
        return super().__new__(cls, name, bases, namespace, **settings)


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
class Record(Struct, metaclass=_Declaring, frozen=True):
    """Base of all records; with `eq=False` one compares by identity, with `dict=True` it has cached properties."""


def record_of(name: str, purpose: str, members: Iterable[tuple[str, Any, Any]]) -> type[Record]:
    """A class of records made from data: (name, type, what `field` gives) of each; purpose: its docstring."""
    listed = tuple(members)
    namespace: dict[str, Any] = {member: given for member, _, given in listed}
    namespace |= {"__doc__": purpose, "__annotations__": {member: kind for member, kind, _ in listed}}
    made: type[Record] = _Declaring(name, (Record,), namespace)  # type: ignore[assignment]
    return made


@cache
def declared_fields(of: type[Record]) -> tuple[Field, ...]:
    """All members of a class of records, those that are only said (ClassVar) among them, inherited ones first."""
    found: dict[str, Field] = {}
    defaults: dict[str, Any] = dict(
        zip(reversed(of.__struct_fields__), reversed(of.__struct_defaults__), strict=False)
    )
    for each in reversed(of.__mro__):
        told = vars(each).get("__told__", {})
        for name, kind in vars(each).get("__annotations__", {}).items():
            found[name] = Field(name, kind, defaults.get(name, ABSENT), told.get(name, {}))
    return tuple(found.values())


def names_of(of: type[Record]) -> tuple[str, ...]:
    """Names of the members that a class of records holds."""
    return of.__struct_fields__


def fields(of: Record | type[Record]) -> tuple[Field, ...]:
    """The members that a record, or a class of records, holds, inherited ones first."""
    return _held(of if isinstance(of, type) else of.__class__)


@cache
def _held(of: type[Record]) -> tuple[Field, ...]:
    return tuple(item for item in declared_fields(of) if item.name in of.__struct_fields__)
