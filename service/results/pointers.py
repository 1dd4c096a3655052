"""Which members of a document are there, as JSON Pointers (RFC 6901)."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from service.results.declare import declared_members


def present_pointers(document: Any) -> frozenset[str]:
    """Pointers of every member that carries a value, of nested objects and list items too."""
    return frozenset(_present(document, ""))


def _present(document: Any, base: str) -> Iterator[str]:
    for name, declared in declared_members(type(document)):
        value, pointer = getattr(document, name), f"{base}/{name}"
        if declared.kind == "part":
            inside = list(_present(value, pointer))
            yield from [pointer, *inside] if inside else []
        elif declared.kind == "parts":
            yield from [pointer] if value else []
            for index, item in enumerate(value):
                yield from (f"{pointer}/{index}", *_present(item, f"{pointer}/{index}"))
        elif value is not None and value != ():
            yield pointer


def without(document: Any, pointers: Iterable[str]) -> Any:
    """The document without some of its members: each pointed at is absent, lists of readings are empty.

    pointers: of members of parts, e.g. `/running/suction_pressure`; one into an item of a list empties the list.
    """
    for pointer in pointers:
        part, name = pointer[1:].split("/")[:2]
        inner = getattr(document, part)
        absent = () if isinstance(getattr(inner, name), tuple) else None
        document = replace(document, **{part: replace(inner, **{name: absent})})
    return document
