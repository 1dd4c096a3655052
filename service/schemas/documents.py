"""Loading a request document: quickly when it is acceptable, with an explanation when it is not."""

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any, TypeVar, cast

from marshmallow import ValidationError, fields

from service.results.refusal import Refusal
from service.results.visit.site import Site
from service.schemas.building import (
    OwnScale,
    PartSchema,
    placed,
    scale_of,
    schema_instance,
    schema_of,
    site_pressure,
    units_schema,
)
from service.schemas.compiled import Factors, Loader, NotAcceptedError, compile_schema, factors_of, units_of
from service.schemas.faults import field_errors
from service.schemas.scale import DEFAULT_SCALE, CurrentScale, Scale

__all__ = ["load", "load_explained", "schema_of", "units_schema"]

Document = TypeVar("Document")


def _compile(document: Any) -> Loader:
    return compile_schema(schema_instance(document), _nested_loader)


_compiled: Callable[[Any], Loader] = cache(_compile)
"""The loader of a declared record, made once."""


def _nested_loader(field: fields.Nested) -> Loader:
    inner = compile_schema(cast(PartSchema, field.schema), _nested_loader)
    if not isinstance(field, OwnScale):
        return inner

    def load_own(value: Any, factors: Factors) -> Any:
        return inner(value, _quick_factors(value, factors.scale))

    return load_own


def _quick_factors(content: Any, outer: Scale) -> Factors:
    """By what a document that is not explained is converted, as `scale_of` says. Raises: ValidationError."""
    if type(content) is not dict:
        raise NotAcceptedError
    chosen, site = content.get("units"), content.get("site")
    if site is None and outer is DEFAULT_SCALE and type(chosen) is dict:
        try:
            return _factors_at_sea_level(tuple(chosen.items()))
        except TypeError:  # what has no hash is no code of a unit
            raise NotAcceptedError from None
    units = units_of(chosen, outer.units)
    factors = factors_of(units, outer.site_pressure)
    if site is None:
        return factors
    loaded: Site = _compiled(Site)(site, factors)
    return factors_of(units, site_pressure(loaded, outer.site_pressure))


@lru_cache(maxsize=256)
def _factors_at_sea_level(chosen: tuple[tuple[str, str], ...]) -> Factors:
    """Factors of the units of most documents, remembered by what was posted. Raises: ValidationError."""
    return factors_of(units_of(dict(chosen), DEFAULT_SCALE.units), DEFAULT_SCALE.site_pressure)


def load(document: type[Document], content: dict[str, Any], outer: Scale = DEFAULT_SCALE) -> Document:
    """Load a request document.

    document: the declared record (Visit, a procedure's request ...), content: strict JSON; outer: units and
    site that hold where the document names none.
    Returns: the record, SI inside. Raises: Refusal with a pointer for everything that is wrong.
    """
    try:
        loaded: Document = _compiled(document)(content, _quick_factors(content, outer))
    except ValidationError:
        return load_explained(document, content, outer)
    return loaded


def load_explained(document: type[Document], content: dict[str, Any], outer: Scale = DEFAULT_SCALE) -> Document:
    """As `load`, by the marshmallow schema itself: slower, and it says what is wrong."""
    scale = scale_of(content, outer)
    try:
        with CurrentScale(scale):
            loaded = schema_instance(document).load(content)
    except ValidationError as error:
        raise Refusal(tuple(field_errors(error.messages))) from None
    placed_document: Document = placed(loaded, scale)
    return placed_document
