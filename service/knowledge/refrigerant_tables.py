"""Reads the shipped tables and refuses those that do not belong to this release."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from service.knowledge.refrigerant_rows import RefrigerantRow, refrigerant_data
from service.physics.chebyshev_table import ChebyshevTable
from service.physics.cubic_table import CubicTable, cubic_table
from service.physics.refrigerant_properties import RefrigerantProperties
from service.physics.saturated_properties import SaturatedProperties
from service.physics.saturation import SaturationCurve
from service.physics.superheated_vapour import SuperheatedVapour

SCHEMA = 1
"""Raised whenever the form of the tables changes."""


class TableMismatch(RuntimeError):
    """A shipped table is not the one that this release was built with; rebuild the tables."""


def identity(row: RefrigerantRow) -> dict[str, Any]:
    """Return what a table must say of itself to be taken for the refrigerant's."""
    return {
        "schema": SCHEMA,
        "property_library": refrigerant_data().property_library,
        "designation": row.designation,
        "composition": {share.designation: share.mass_percent for share in row.composition},
        "pseudo_pure": row.pseudo_pure,
    }


def checked_table(text: bytes, row: RefrigerantRow) -> dict[str, Any]:
    """Return a table read from its file's content.

    Raises:
        TableMismatch: form, property library, refrigerant or composition are not this release's.
    """
    table: dict[str, Any] = json.loads(text)
    for member, expected in identity(row).items():
        if table.get(member) != expected:
            raise TableMismatch(f"{row.designation}: {member} is {table.get(member)!r}, not {expected!r}")
    return table


@cache
def saturation_table(row: RefrigerantRow) -> dict[str, Any]:
    """Return the refrigerant's saturation table, read once."""
    return checked_table(_file(row, "saturation"), row)


def saturation_curve(table: dict[str, Any]) -> SaturationCurve:
    """Return the saturation lines of a checked table."""
    low, high = table["temperature_range"]
    lowest, highest = table["pressure_range"]
    by_pressure = _lines(table["reciprocal_temperature_by_logarithm_of_pressure"])
    by_temperature = _lines(table["logarithm_of_pressure_by_reciprocal_temperature"])
    return SaturationCurve(low, high, lowest, highest, *by_pressure, *by_temperature)


def _lines(table: dict[str, Any]) -> tuple[CubicTable, CubicTable]:
    lines = _columns(table)
    # A pure fluid has one line for both, and its file holds it once.
    return lines["bubble"], lines.get("dew", lines["bubble"])


@cache
def refrigerant_properties(row: RefrigerantRow) -> RefrigerantProperties:
    """Return the refrigerant's liquid and vapour properties, read once, when first asked for."""
    table = checked_table(_file(row, "properties"), row)
    curve = saturation_curve(saturation_table(row))
    saturated = _saturated(table, curve)
    return RefrigerantProperties(saturated, _superheated(table["superheated"], curve, saturated))


def _saturated(table: dict[str, Any], curve: SaturationCurve) -> SaturatedProperties:
    liquid = _columns(table["liquid_by_temperature"])
    vapour = _columns(table["vapour_by_fourth_root_of_pressure"])
    lowest, highest = table["liquid_by_temperature"]["ends"]
    return SaturatedProperties(
        lowest_temperature=lowest,
        highest_temperature=highest,
        lowest_pressure=curve.lowest_pressure,
        highest_pressure=curve.highest_pressure,
        liquid_density_table=liquid["density"],
        liquid_enthalpy_table=liquid["enthalpy"],
        liquid_entropy_table=liquid["entropy"],
        liquid_reciprocal_specific_heat_table=liquid["reciprocal_specific_heat"],
        vapour_log_density_table=vapour["log_density"],
        vapour_enthalpy_table=vapour["enthalpy"],
        vapour_entropy_table=vapour["entropy"],
        vapour_reciprocal_specific_heat_table=vapour["reciprocal_specific_heat"],
    )


def _columns(table: dict[str, Any]) -> dict[str, CubicTable]:
    low, high = table["ends"]
    return {name: cubic_table(low, high, **knots) for name, knots in table.items() if name != "ends"}


def _superheated(
    table: dict[str, Any], curve: SaturationCurve, saturated: SaturatedProperties
) -> SuperheatedVapour:
    low, high = table["pressure_range"]
    return SuperheatedVapour(
        lowest_pressure=low,
        highest_pressure=high,
        highest_superheat=table["highest_superheat"],
        enthalpy_table=ChebyshevTable(np.array(table["enthalpy"])),
        entropy_table=ChebyshevTable(np.array(table["entropy"])),
        log_compressibility_table=ChebyshevTable(np.array(table["log_compressibility"])),
        saturation=curve,
        saturated=saturated,
    )


def _file(row: RefrigerantRow, kind: str) -> bytes:
    return files("service.knowledge").joinpath("tables", kind, f"{row.designation}.json").read_bytes()
