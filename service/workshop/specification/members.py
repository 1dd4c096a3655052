"""A declared record -> JSON Schema (2020-12) in the plain subset that client generators understand.

No null, no allOf, no anyOf; oneOf stands in two places only: a resistance that may be a plain number, and a short
name that may be a whole number.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.results.declare import Member, declared_members
from service.results.expected import RangeOf
from service.results.quantity import Quantity
from service.results.record import names_of
from service.results.units import FIXED, TABLE, Units
from service.results.visit.electrical import InsulationReading
from service.schemas.fields import LARGEST_COEFFICIENT
from service.workshop.specification.describe import description

Schema = dict[str, Any]
NUMBER = {"type": "number", "format": "double"}
"""Without the format some generators make 32-bit numbers."""


class Components:
    """The schemas of a document by name; each record once."""

    def __init__(self) -> None:
        self.schemas: dict[str, Schema] = {}
        self._made_from: dict[str, object] = {}

    def reference(self, of: type, closed: bool) -> Schema:
        """A $ref to the schema of a declared record. closed: unknown members are refused (requests)."""
        name = getattr(of, "SCHEMA", of.__name__.removesuffix("Shape"))
        made_from = self._made_from.setdefault(name, of)
        if made_from is not of:
            raise ValueError(f"two records want the schema name {name}: rename one")
        if name not in self.schemas:
            self.schemas[name] = {}  # holds the place while a nested one is made
            self.schemas[name] = self._object(of, closed)
        return {"$ref": f"#/components/schemas/{name}"}

    def named(self, name: str, schema: Schema) -> Schema:
        """A $ref to a schema that no record declares."""
        self.schemas.setdefault(name, schema)
        return {"$ref": f"#/components/schemas/{name}"}

    def _object(self, of: type, closed: bool) -> Schema:
        members = _with_inline(of)
        properties = {name: self.member(name, declared, closed) for name, declared in members}
        if "units" in names_of(of) and "units" not in properties:
            units = self.named("Units", units_schema()) | {"description": "Units of the numbers in this document."}
            properties = {"units": units, **properties}
        schema: Schema = {"type": "object", "description": " ".join((of.__doc__ or "").split("\n\n")[0].split())}
        required = [name for name, declared in members if declared.required]
        if required:
            schema["required"] = required
        schema["properties"] = properties
        if closed:
            schema["additionalProperties"] = False
        if of is InsulationReading:
            schema |= {"minProperties": 1, "maxProperties": 1}
            properties["over_limit"] = over_limit()
        return schema

    def member(self, name: str, declared: Member, closed: bool) -> Schema:
        """The schema of one member."""
        said = {"description": description(name, declared)}
        if declared.kind in ("part", "object", "insulation", "baseline", "document"):
            return self.reference(_part(declared), closed) | said
        if declared.kind == "posted":
            return self.reference(_part(declared), closed=True) | said
        if declared.kind in ("parts", "coded"):
            items = self.reference(_part(declared), closed)
            return {"type": "array", "items": items, **_lengths(declared, closed), **said}
        if declared.kind in ("resistance", "resistance_or_number"):
            return self._resistance(declared) | said
        if declared.kind in _COMPUTED:
            return self.reference(_COMPUTED[declared.kind], closed) | said
        return _PLAIN.get(declared.kind, _number)(declared) | said

    def _resistance(self, declared: Member) -> Schema:
        resistance = self.named("Resistance", resistance_schema(declared))
        if declared.kind == "resistance":
            return resistance
        either = {
            "oneOf": [{**NUMBER, "minimum": declared.low, "maximum": declared.high}, resistance],
            "description": "A number of ohms, or a resistance object.",
        }
        return self.named("ResistanceOrNumber", either)


def over_limit() -> Schema:
    """The mark of a meter that showed over-limit: true is the only value."""
    return {
        "type": "boolean",
        "const": True,
        "description": "The meter showed over-limit (OL). Leave it out otherwise; false is refused.",
    }


def resistance_schema(declared: Member) -> Schema:
    """Exactly one of ohms and over_limit."""
    return {
        "type": "object",
        "description": "A resistance: exactly one of `ohms` and `over_limit`.",
        "properties": {
            "ohms": {
                **NUMBER,
                "minimum": declared.low,
                "maximum": declared.high,
                "description": "Resistance in ohm.",
            },
            "over_limit": over_limit(),
        },
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": 1,
    }


def units_schema() -> Schema:
    """The units of a request; every member is optional."""
    properties = {
        name: {
            "type": "string",
            "enum": list(table),
            "default": next(iter(table)),
            "description": description(
                name, Member("choice", f"Unit of {name.replace('_', ' ')}.", choices=tuple(table))
            ),
        }
        for name, table in TABLE.items()
    }
    purpose = (
        "Units of the numbers in a request and its answer; what is left out takes its default. Electrical "
        "readings are always V, A, ohm, Mohm, uF, W and Hz, relative humidity is in percent, times are in minutes."
    )
    return {"type": "object", "description": purpose, "properties": properties, "additionalProperties": False}


def _with_inline(of: type) -> list[tuple[str, Member]]:
    """The members of a record, those of its inline parts among them."""
    found: list[tuple[str, Member]] = []
    for name, declared in declared_members(of):
        found += _with_inline(_part(declared)) if declared.kind == "inline" else [(name, declared)]
    return found


def _part(declared: Member) -> type:
    assert declared.part is not None
    return declared.part


def _lengths(declared: Member, closed: bool) -> Schema:
    """A required list of a request must not be empty; an empty list of an answer is a fact."""
    lengths: Schema = {"minItems": 1} if closed and declared.required else {}
    return lengths | ({"maxItems": declared.length} if declared.length else {})


def _number(declared: Member) -> Schema:
    """A number in the caller's unit; its limits are keywords only where no choice of unit changes them."""
    schema: Schema = {**NUMBER}
    if declared.kind in FIXED or declared.kind == "number":
        scale = FIXED[declared.kind][1].scale if declared.kind in FIXED else 1.0
        if declared.low is not None:
            schema["minimum"] = declared.low / scale
        if declared.high is not None:
            schema["maximum"] = declared.high / scale
    elif declared.low == 0.0 and Units().unit(declared.kind).offset == 0.0:
        schema["minimum"] = 0.0
    return schema


def _integer(declared: Member) -> Schema:
    """A whole number; an end that is not declared is none."""
    ends = {"minimum": declared.low, "maximum": declared.high}
    return {"type": "integer"} | {name: int(end) for name, end in ends.items() if end is not None}


def _choice(declared: Member) -> Schema:
    kind = "integer" if isinstance(declared.choices[0], int) else "string"
    return {"type": kind, "enum": list(declared.choices)}


def _choices(declared: Member) -> Schema:
    items = {"type": "string", "enum": list(declared.choices)}
    return {"type": "array", "items": items, "uniqueItems": True, "maxItems": declared.length}


def _text(declared: Member) -> Schema:
    return {"type": "string"} | ({"minLength": 1, "maxLength": declared.length} if declared.length else {})


def _label(declared: Member) -> Schema:
    if not declared.choices:
        return {"oneOf": [_text(declared), {"type": "integer"}]}
    words = {"type": "string", "enum": [str(item) for item in declared.choices]}
    numbers = {"type": "integer", "enum": [item for item in declared.choices if isinstance(item, int)]}
    return {"oneOf": [words, numbers]}


def _numbers(declared: Member) -> Schema:
    return {
        "type": "array",
        "items": {**NUMBER, "minimum": -LARGEST_COEFFICIENT, "maximum": LARGEST_COEFFICIENT},
        "minItems": declared.length,
        "maxItems": declared.length,
    }


_COMPUTED = {"quantity": Quantity, "range": RangeOf}
_PLAIN: dict[str, Callable[[Member], Schema]] = {
    "boolean": lambda _: {"type": "boolean"},
    "integer": _integer,
    "choice": _choice,
    "choices": _choices,
    "text": _text,
    "texts": lambda _: {"type": "array", "items": {"type": "string"}},
    "label": _label,
    "said": lambda _: {"oneOf": [{"type": "boolean"}, {"type": "string"}]},
    "place": lambda _: {"type": "string", "pattern": "^[A-Za-z]{2}(-[A-Za-z0-9]{1,3})?$"},
    "date": lambda _: {"type": "string", "format": "date"},
    "date_time": lambda _: {"type": "string", "format": "date-time"},
    "numbers": _numbers,
    "capacitances": lambda _: {"type": "array", "items": NUMBER},
}
