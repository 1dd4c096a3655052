"""JSON Pointers into a visit document: what is declared there, what stands there, putting a value there."""

from __future__ import annotations

from typing import Any

from service.results.declare import Member, declared_members
from service.results.visit import Visit


def declared_at(pointer: str, form: type = Visit) -> Member:
    """The declaration of the member that a pointer names in a document of that form. Raises: KeyError."""
    of: type | None = form
    declared: Member | None = None
    for name in pointer.split("/")[1:]:
        declared = dict(declared_members(of or form))[name]
        of = declared.part
    assert declared is not None
    return declared


def absent(document: dict[str, Any], pointer: str) -> bool:
    """True when nothing stands at a pointer."""
    found: Any = document
    for name in pointer.split("/")[1:]:
        if name not in found:
            return True
        found = found[name]
    return False


def place(document: dict[str, Any], pointer: str, value: Any) -> dict[str, Any]:
    """A copy of the document with a value at a pointer; objects on the way are made."""
    name, _, rest = pointer[1:].partition("/")
    if not rest:
        return {**document, name: value}
    return {**document, name: place(document.get(name, {}), f"/{rest}", value)}
