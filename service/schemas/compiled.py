"""Loading compiled from the marshmallow schemas: one walk over what was posted, no explanations.

The schemas stay the one source. Each field of a schema becomes one function of (value, factors); the fields that
do not convert are called as they are. Whatever is wrong raises marshmallow's ValidationError, and the caller lets
the schema itself explain. A property test holds that both ways accept the same documents and give the same result.
"""

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

from marshmallow import Schema, ValidationError, fields

from service.results.units import BORROWED, FIXED, PER_LENGTH, PER_TIME, TABLE, Units
from service.schemas import fields as wire
from service.schemas.scale import Scale


class Factors(dict[str, tuple[float, float]]):
    """(scale, offset) of every kind of quantity, and the scale they were made from."""

    scale: Scale


Loader = Callable[[Any, Factors], Any]
Own = Callable[[fields.Nested], Loader]

KINDS = (*TABLE, *FIXED, *BORROWED, *PER_TIME, *PER_LENGTH)


class NotAcceptedError(ValidationError):
    """A compiled loader refuses; the schema says why.

    Raised anew each time: an exception that is kept keeps every document that it was raised over.
    """

    def __init__(self) -> None:
        super().__init__("refused")


@lru_cache(maxsize=1024)
def factors_of(units: Units, site_pressure: float) -> Factors:
    """Factors of a scale, the site pressure [Pa] already in the offset of gauge pressures."""
    factors = Factors(_factors(units))
    factors.scale = Scale(units, site_pressure)
    if units.unit("pressure").gauge:
        size, offset = factors["pressure"]
        factors["pressure"] = size, offset + site_pressure
    return factors


@lru_cache(maxsize=256)
def _factors(units: Units) -> dict[str, tuple[float, float]]:
    """Factors before any site pressure, which differs from site to site; only the kind `pressure` knows gauges."""
    return {kind: (units.unit(kind).scale, units.unit(kind).offset) for kind in KINDS}


def compile_schema(schema: Schema, own_scale: Own) -> Loader:
    """A loader that does what `schema.load` does with an acceptable document.

    own_scale: makes the loader of a nested document with units of its own. The loader raises ValidationError for
    a document that the schema refuses.
    """
    loaders = {
        name: _own_units if name == "units" else _compile(field, own_scale)
        for name, field in schema.load_fields.items()
    }
    required = frozenset(name for name, field in schema.load_fields.items() if field.required)
    made = schema.made  # type: ignore[attr-defined]
    check = getattr(schema, "one_of_three", None)
    has_scale = "units" in schema.load_fields

    def load(value: Any, factors: Factors) -> Any:
        if type(value) is not dict:
            raise NotAcceptedError
        members: dict[str, Any] = _placing(factors.scale) if has_scale else {}
        for name, item in value.items():
            loader = loaders.get(name)
            if loader is None:
                raise NotAcceptedError
            members[name] = loader(item, factors)
        if required and not required <= members.keys():
            raise NotAcceptedError
        if check is not None:
            check(members)
        return made(**members)

    return load


def _placing(scale: Scale) -> dict[str, Any]:
    return {"units": scale.units, "site_pressure": scale.site_pressure}


def _own_units(value: Any, factors: Factors) -> Units:
    """The units of a document, which have been read already, because everything else is read by them."""
    if value is None:
        raise NotAcceptedError
    return factors.scale.units


def _compile(field: fields.Field[Any], own_scale: Own) -> Loader:
    if isinstance(field, wire.Reading):
        return _reading(field)
    if isinstance(field, fields.Nested):
        return own_scale(field)
    if isinstance(field, fields.List):
        return _list(field, own_scale)
    deserialize = field._deserialize
    return lambda value, _: deserialize(value, None, None)


def _reading(field: wire.Reading) -> Loader:
    kind, low, high = field.declared.kind, field.declared.low, field.declared.high
    lowest = -wire.LARGEST if low is None else low - wire.slack(low, kind)
    highest = wire.LARGEST if high is None else high + wire.slack(high, kind)

    def load(value: Any, factors: Factors) -> float:
        if type(value) is not float and type(value) is not int:
            raise NotAcceptedError
        scale, offset = factors[kind]
        try:
            inside = value * scale + offset
        except OverflowError:
            raise NotAcceptedError from None
        if lowest <= inside <= highest:
            return inside if abs(inside) >= wire.SMALLEST else 0.0
        raise NotAcceptedError

    return load


def _list(field: fields.List[Any], own_scale: Own) -> Loader:
    inner = _compile(field.inner, own_scale)
    most = field.declared.length or 0  # type: ignore[attr-defined]
    least = 1 if field.required else 0

    def load(value: Any, factors: Factors) -> tuple[Any, ...]:
        if type(value) is not list or not least <= len(value) <= most:
            raise NotAcceptedError
        return tuple([inner(item, factors) for item in value])

    return load


@cache
def unit_codes() -> dict[str, frozenset[str]]:
    """The codes of each member of `units`."""
    return {name: frozenset(table) for name, table in TABLE.items()}


def units_of(content: Any, default: Units) -> Units:
    """The units of a document. Raises: ValidationError for a code or member that does not exist."""
    if content is None:
        return default
    if type(content) is not dict:
        raise NotAcceptedError
    codes = unit_codes()
    for name, code in content.items():
        if type(code) is not str or code not in codes.get(name, ()):
            raise NotAcceptedError
    return _units(tuple(content.items()))


@lru_cache(maxsize=256)
def _units(chosen: tuple[tuple[str, str], ...]) -> Units:
    return Units(**dict(chosen))
