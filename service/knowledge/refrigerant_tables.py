"""Reads the shipped tables and refuses those that do not belong to this release."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

from service.knowledge.refrigerant_rows import RefrigerantRow, refrigerant_data
from service.physics.cubic_table import CubicTable, cubic_table
from service.physics.saturation import SaturationCurve

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
    low, high = table["ends"]
    bubble = cubic_table(low, high, **table["bubble"])
    # A pure fluid has one line for both, and its file holds it once.
    dew = cubic_table(low, high, **table["dew"]) if "dew" in table else bubble
    return bubble, dew


def _file(row: RefrigerantRow, kind: str) -> bytes:
    return files("service.knowledge").joinpath("tables", kind, f"{row.designation}.json").read_bytes()
