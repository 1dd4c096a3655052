"""Marshmallow schemas of request documents, made once from the declarations in service/results."""

from collections.abc import Iterator
from functools import cache
from typing import Any, TypeVar

from marshmallow import RAISE, Schema, ValidationError, fields, post_load, validates_schema

from service.physics.atmosphere import pressure_at_elevation
from service.results.declare import Member, declared_members
from service.results.record import names_of, replace
from service.results.refusal import phrase
from service.results.units import TABLE, Units
from service.results.visit.electrical import InsulationReading
from service.results.visit.site import Site
from service.results.visit.unit_known import PrintedNormals
from service.schemas import fields as wire
from service.schemas.faults import NOT_AN_OBJECT, UNKNOWN, Fault, unknown_member
from service.schemas.scale import CurrentScale, Scale, current_scale

Document = TypeVar("Document")


MOST_GUESSES = 5
"""Guessing what was meant costs time; a document full of strange names gets no more of it."""


class PartSchema(Schema):
    """An object of a document; unknown members are refused, the result is the part's record."""

    made: type = dict
    # marshmallow's own form, which passes on what stands in it without reading it
    error_messages: Any = {"unknown": UNKNOWN, "type": NOT_AN_OBJECT}  # noqa: RUF012

    class Meta:
        unknown = RAISE

    def handle_error(self, error: ValidationError, data: Any, **_: Any) -> None:
        """Say which member an unknown one may have been meant for, in the order of the document.

        marshmallow tells them in the order of a set, which is another one in every process.
        """
        messages = error.messages
        if isinstance(messages, dict) and isinstance(data, dict):
            strange = [name for name in data if messages.get(name) == [UNKNOWN]]
            for number, name in enumerate(strange):
                guessed = number < MOST_GUESSES
                said = unknown_member(str(name), self.fields, place_of(str(name), self)) if guessed else UNKNOWN
                del messages[name]
                messages[name] = [said]

    @post_load
    def make(self, data: dict[str, Any], **_: Any) -> Any:
        """The part's record; absent members take the default of the declaration."""
        return self.made(**data)


def place_of(name: str, schema: Schema) -> str | None:
    """The one object further in that has a member of that name, as "running"; None where none or several have."""
    found = list(_places(name, schema))
    return found[0] if len(found) == 1 else None


def _places(name: str, schema: Schema) -> Iterator[str]:
    """What repeats the names of readings, a baseline or a printed chart, is never the place that was meant."""
    for part, field in schema.fields.items():
        if isinstance(field, NestedPart) and not isinstance(field, OwnScale):
            inner = field.schema
            if getattr(inner, "made", None) is PrintedNormals:
                continue
            if name in inner.fields:
                yield part
            yield from (f"{part}/{deeper}" for deeper in _places(name, inner))


class InsulationSchema(PartSchema):
    """Exactly one of ohms, megohms and over_limit."""

    @validates_schema
    def one_of_three(self, data: dict[str, Any], **_: Any) -> None:
        """Refuse none, two, or over_limit: false."""
        if len(data) != 1 or data.get("over_limit") is False:
            allowed = ('{"ohms": number}', '{"megohms": number}', '{"over_limit": true}')
            raise wire.refused(Fault(phrase("document.one-of-three"), "document.not-a-resistance", allowed))


FIELD_OF_KIND: dict[str, type[wire.Strict]] = {
    "boolean": wire.Flag,
    "integer": wire.Integer,
    "choice": wire.Choice,
    "choices": wire.Choices,
    "text": wire.Text,
    "label": wire.Label,
    "place": wire.PlaceCode,
    "date": wire.Date,
    "date_time": wire.DateTime,
    "resistance": wire.ResistanceField,
    "resistance_or_number": wire.PlainResistance,
    "numbers": wire.Numbers,
}


@cache
def schema_of(document: type) -> type[PartSchema]:
    """The marshmallow schema class of a declared record."""
    made: dict[str, fields.Field[Any]] = {name: _field(declared) for name, declared in declared_members(document)}
    if "units" in names_of(document):
        made = {"units": NestedPart(units_schema()), **made}
    base = InsulationSchema if document is InsulationReading else PartSchema
    schema: type[PartSchema] = base.from_dict(made, name=f"{document.__name__}Schema")  # type: ignore[assignment]
    schema.made = document
    return schema


class NestedPart(fields.Nested):
    """A nested object that refuses null in our form."""

    def make_error(self, key: str, **_: Any) -> ValidationError:
        """marshmallow's own complaints (absent, null), in our form."""
        said = wire.meaning(self)
        if key == "required":
            return wire.refused(Fault((phrase("document.required"), said), "document.required"))
        return wire.refused(Fault((phrase("document.null"), said), "document.null"))


class PartList(fields.List[Any]):
    """A list of objects of limited length, a tuple inside."""

    def __init__(self, inner: Any, declared: Member) -> None:
        super().__init__(inner, required=declared.required, metadata={"description": declared.description})
        self.declared = declared

    def make_error(self, key: str, **_: Any) -> ValidationError:
        """marshmallow's own complaints, in our form."""
        said = wire.meaning(self)
        faults = {
            "required": Fault((phrase("document.list-required"), said), "document.required"),
            "null": Fault((phrase("document.null"), said), "document.null"),
        }
        no_list = Fault((phrase("document.list"), said), "document.not-a-list", ("list",))
        return ValidationError([faults.get(key, no_list)])

    def _deserialize(self, value: Any, attr: str | None, data: Any, **details: Any) -> Any:
        most = self.declared.length or 0
        if type(value) is not list:
            raise self.make_error("invalid")
        empty = self.declared.required and not value
        if empty or len(value) > most:
            allowed = phrase("range.items", least=str(int(self.declared.required)), most=str(most))
            detail = (phrase("document.give", range=allowed), wire.meaning(self))
            code = "document.list-empty" if empty else "document.list-too-long"
            raise wire.refused(Fault(detail, code, (allowed,)))
        return tuple(super()._deserialize(value, attr, data, **details))


class OwnScale(NestedPart):
    """A nested document with units and site of its own; both default to the outer document's."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, partial: Any = None, **details: Any) -> Any:
        scale = scale_of(value, current_scale()) if type(value) is dict else current_scale()
        with CurrentScale(scale):
            loaded = super()._deserialize(value, attr, data, partial, **details)
        return placed(loaded, scale)


def _field(declared: Member) -> fields.Field[Any]:
    details: dict[str, Any] = {
        "required": declared.required,
        "metadata": {"description": declared.description},
    }
    if declared.kind in ("part", "insulation"):
        return NestedPart(schema_of(_part(declared)), **details)
    if declared.kind == "parts":
        return PartList(NestedPart(schema_of(_part(declared))), declared)
    if declared.kind in ("baseline", "document"):
        return OwnScale(schema_of(_part(declared)), **details)
    return FIELD_OF_KIND.get(declared.kind, wire.Reading)(declared)


def _part(declared: Member) -> type:
    assert declared.part is not None
    return declared.part


@cache
def units_schema() -> type[PartSchema]:
    """The schema of `units`: each member one of its codes."""
    made: dict[str, fields.Field[Any]] = {
        name: wire.Choice(Member("choice", f"Unit of {name.replace('_', ' ')}.", choices=tuple(table)))
        for name, table in TABLE.items()
    }
    schema: type[PartSchema] = PartSchema.from_dict(made, name="UnitsSchema")  # type: ignore[assignment]
    schema.made = Units
    return schema


def schema_instance(document: Any) -> PartSchema:
    """The one schema object of a declared record (or of Units)."""
    return _instance(document)


@cache
def _instance(document: Any) -> PartSchema:
    return units_schema()() if document is Units else schema_of(document)()


def scale_of(document: dict[str, Any], outer: Scale) -> Scale:
    """Units and site pressure of a document; what is wrong in them is reported by the full load."""
    units = _peek(Units, document.get("units"), outer) or outer.units
    site = _peek(Site, document.get("site"), Scale(units, outer.site_pressure))
    return Scale(units, site_pressure(site, outer.site_pressure))


def _peek(document: type[Document], content: Any, scale: Scale) -> Document | None:
    if type(content) is not dict:
        return None
    try:
        with CurrentScale(scale):
            loaded: Document = schema_instance(document).load(content)
            return loaded
    except ValidationError:
        return None


def site_pressure(site: Site | None, outer: float) -> float:
    """[Pa] by the barometer, else by the elevation, else the outer document's."""
    if site is None or (site.barometric_pressure is None and site.elevation is None):
        return outer
    if site.barometric_pressure is not None:
        return site.barometric_pressure
    return pressure_at_elevation(site.elevation or 0.0)


def placed(loaded: Any, scale: Scale) -> Any:
    """The loaded document with its scale."""
    return replace(loaded, units=scale.units, site_pressure=scale.site_pressure)
