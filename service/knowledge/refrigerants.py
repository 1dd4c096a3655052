"""Refrigerants by name: what is known of each, with its saturation lines and properties."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from types import MappingProxyType

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerant_names import reading_key
from service.knowledge.refrigerant_rows import NotComputed, RefrigerantRow, refrigerant_data
from service.knowledge.refrigerant_tables import saturation_curve, saturation_table
from service.physics.saturation import SaturationCurve

_PSI = 6894.757293168
_PRESSURE_CLASSES = (("low", 45.0 * _PSI), ("medium", 170.0 * _PSI), ("high", 355.0 * _PSI))
_CLASS_TEMPERATURE = 313.15  # 104 F
_HIGH_GLIDE = 3.0  # [K] common practice, no source: above it bubble and dew must be kept apart on the gauge


class UnknownRefrigerant(ValueError):
    """The name is no refrigerant that can be computed; `reason` says why."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(f"{name}: {reason}")
        self.name = name
        self.reason = reason


@lru_cache(maxsize=1024)
def find(name: str) -> Refrigerant:
    """Return the refrigerant of that name in any common spelling.

    Raises:
        UnknownRefrigerant: no such refrigerant, or one that is known and cannot be computed.
    """
    key = reading_key(name)
    row = _rows_by_key().get(key)
    if row is not None:
        return _refrigerant(row)
    refused = _refused_by_key().get(key)
    if refused is not None:
        raise UnknownRefrigerant(refused.designation, refused.reason)
    raise UnknownRefrigerant(name, "refrigerant.none-such")


@cache
def all_refrigerants() -> tuple[Refrigerant, ...]:
    """Return every refrigerant that can be computed, in the order of the data file."""
    return tuple(_refrigerant(row) for row in refrigerant_data().refrigerants)


def known_but_not_computed() -> tuple[NotComputed, ...]:
    """Return the refrigerants that are refused by name, with their reasons."""
    return refrigerant_data().not_computed


@cache
def _rows_by_key() -> Mapping[str, RefrigerantRow]:
    rows: dict[str, RefrigerantRow] = {}
    for row in refrigerant_data().refrigerants:
        for spelling in (row.designation, *row.spellings):
            if rows.setdefault(reading_key(spelling), row) is not row:
                raise ValueError(f"{spelling} names two refrigerants")
    return rows


@cache
def _refused_by_key() -> Mapping[str, NotComputed]:
    return {reading_key(row.designation): row for row in refrigerant_data().not_computed}


@cache
def _refrigerant(row: RefrigerantRow) -> Refrigerant:
    table = saturation_table(row)
    curve = saturation_curve(table)
    pressure_class = _pressure_class(curve)
    glide_at_40 = _glide_at_bubble(curve, _CLASS_TEMPERATURE)
    components = refrigerant_data().components
    shares = [(components[share.designation], share.mass_percent / 100.0) for share in row.composition]
    ozone_depleting = any(component.ozone_depleting for component, _ in shares)
    return Refrigerant(
        designation=row.designation,
        kind="pure" if len(row.composition) == 1 else "blend",
        composition=row.composition,
        safety_class=row.safety_class,
        lower_flammability_limit=row.lower_flammability_limit,
        gwp_ar4=sum(component.gwp_ar4 * share for component, share in shares),
        gwp_ar5=sum(component.gwp_ar5 * share for component, share in shares),
        ozone_depleting=ozone_depleting,
        oils=row.oils,
        charging_phase="liquid" if _zeotrope(row) else "either",
        pressure_class=pressure_class,
        glide_at_dew_5_c=_glide(curve, curve.dew_pressure(278.15)),
        glide_at_bubble_40_c=glide_at_40,
        critical_temperature=table["critical_point"]["temperature"],
        critical_pressure=table["critical_point"]["pressure"],
        cautions=_cautions(row, ozone_depleting, pressure_class, glide_at_40),
        sources=MappingProxyType(dict(refrigerant_data().sources)),
        saturation=curve,
        row=row,
    )


def _zeotrope(row: RefrigerantRow) -> bool:
    """ASHRAE Standard 34 numbers zeotropes from 400, azeotropes from 500."""
    return row.designation.startswith("R-4")


def _pressure_class(curve: SaturationCurve) -> str:
    if curve.highest_temperature < _CLASS_TEMPERATURE:
        return "very_high"
    pressure = curve.bubble_pressure(_CLASS_TEMPERATURE)
    return next((name for name, limit in _PRESSURE_CLASSES if pressure <= limit), "very_high")


def _glide(curve: SaturationCurve, pressure: float) -> float:
    return curve.dew_temperature(pressure) - curve.bubble_temperature(pressure)


def _glide_at_bubble(curve: SaturationCurve, temperature: float) -> float | None:
    if curve.highest_temperature < temperature:
        return None
    return _glide(curve, curve.bubble_pressure(temperature))


def _cautions(
    row: RefrigerantRow, ozone_depleting: bool, pressure_class: str, glide: float | None
) -> tuple[str, ...]:
    asked = {
        "caution.flammable-refrigerant": row.safety_class[1:] != "1",
        "caution.higher-toxicity-refrigerant": row.safety_class.startswith("B"),
        "caution.ozone-depleting-refrigerant": ozone_depleting,
        "caution.very-high-pressure-refrigerant": pressure_class == "very_high",
        "caution.charge-as-liquid": _zeotrope(row),
        "caution.high-glide": glide is not None and glide > _HIGH_GLIDE,
    }
    return tuple(code for code, holds in asked.items() if holds)
