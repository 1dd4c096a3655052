"""A part of a request document as a caller would post it: the inverse of loading."""

from __future__ import annotations

from typing import Any

from service.results.declare import declared_members
from service.results.units import BORROWED, KINDS, TABLE, Units, from_si, rounded

DECIMALS = 6
"""Of a number that is handed out to be posted again: finer than any instrument."""
PLAIN = frozenset({"boolean", "integer", "choice", "text", "date", "date_time"})


def posted(document: Any) -> dict[str, Any]:
    """A document with units of its own, as JSON: the members that were read, and the units that they are in.

    Raises: ValueError for a member of a kind that no handed-out document has.
    """
    units: Units = document.units
    spoken: set[str] = set()
    members = _members(document, units, document.site_pressure, spoken)
    return {"units": {name: getattr(units, name) for name in TABLE if name in spoken}, **members}


def _members(item: Any, units: Units, site_pressure: float, spoken: set[str]) -> dict[str, Any]:
    """The members of a part; spoken: gains the units that their numbers are in."""
    body: dict[str, Any] = {}
    for name, declared in declared_members(item.__class__):
        value = getattr(item, name)
        if declared.kind == "part":
            if inside := _members(value, units, site_pressure, spoken):
                body[name] = inside
        elif value is not None and value != ():
            body[name] = _written(value, declared.kind, units, site_pressure)
            spoken.add(BORROWED.get(declared.kind, declared.kind))
    return body


def _written(value: Any, kind: str, units: Units, site_pressure: float) -> Any:
    if kind in PLAIN:
        return value
    if kind not in KINDS:
        raise ValueError(f"no document that is handed out has a member of kind {kind}")
    return rounded(from_si(value, kind, units, site_pressure), DECIMALS)
