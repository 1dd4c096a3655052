"""Which members of a document are there, as JSON Pointers (RFC 6901)."""

from collections.abc import Callable, Iterable
from functools import cache
from operator import attrgetter
from typing import Any

from service.results.declare import declared_members
from service.results.record import fields, replace

PLAIN, PART, PARTS = range(3)
_KINDS = {"part": PART, "parts": PARTS}


@cache
def reader_of(pointer: str) -> Callable[[Any], Any]:
    """What reads the member that a pointer names, of a document; no items of lists."""
    return attrgetter(pointer[1:].replace("/", "."))


def present_pointers(document: Any) -> frozenset[str]:
    """Pointers of every member that carries a value, of nested objects and list items too.

    Kept with a visit like what is marked `kept`, because every stage asks for it.
    """
    kept = getattr(document, "kept", None)
    if kept is None:
        return frozenset(_present(document, ""))
    found: frozenset[str] | None = kept.get(present_pointers)
    if found is None:
        found = kept[present_pointers] = frozenset(_present(document, ""))
    return found


def _present(document: Any, base: str) -> list[str]:
    found: list[str] = []
    for name, kind, default in _members(document.__class__):
        value = getattr(document, name)
        if value is None or value is default or value == ():
            continue
        pointer = f"{base}/{name}"
        if kind == PLAIN:
            found.append(pointer)
        elif kind == PART:
            if inside := _present(value, pointer):
                found.append(pointer)
                found += inside
        else:
            found.append(pointer)
            for index, item in enumerate(value):
                found.append(f"{pointer}/{index}")
                found += _present(item, f"{pointer}/{index}")
    return found


@cache
def _members(of: type) -> tuple[tuple[str, int, Any], ...]:
    """Name and kind of each declared member, and the empty part that stands where none was given."""
    empty = of()
    kinds = {name: _KINDS.get(declared.kind, PLAIN) for name, declared in declared_members(of)}
    return tuple(
        (item.name, kinds[item.name], getattr(empty, item.name) if kinds[item.name] == PART else None)
        for item in fields(of)
        if item.name in kinds
    )


def without(document: Any, pointers: Iterable[str]) -> Any:
    """The document without some of its members: each pointed at is absent, lists of readings are empty.

    pointers: of members of parts, e.g. `/running/suction_pressure`; one into an item of a list empties the list.
    """
    for pointer in pointers:
        document = _left_out(document, pointer[1:].split("/"))
    return document


def _left_out(part: Any, names: list[str]) -> Any:
    name, inner = names[0], getattr(part, names[0])
    if isinstance(inner, tuple):
        left: Any = ()
    elif len(names) == 1:
        left = None
    else:
        left = _left_out(inner, names[1:])
    return replace(part, **{name: left})
