"""GET /v1/refrigerants, one refrigerant, and its saturation table as JSON or CSV."""

import csv
import io
from typing import Any

from flask import Blueprint, Response, request

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import (
    UnknownRefrigerant,
    all_refrigerants,
    find,
    known_but_not_computed,
)
from service.library.provenance import provenance
from service.results.units import STANDARD_ATMOSPHERE, Units, written
from service.wire.gate import produces, query_parameters
from service.wire.problems import ProblemError
from service.wire.reading import representation
from service.wire.responding import catalogue
from service.wire.routes.saturation_table import COLUMNS, read_query, table_rows

BLUEPRINT = Blueprint("refrigerants", __name__)
QUERY = ("lowest", "highest", "step", "temperature_unit", "pressure_unit")
LISTED = "GET /v1/refrigerants lists what is known."
SI = Units(temperature="degC", pressure="kPa")


@BLUEPRINT.get("/v1/refrigerants")
def list_refrigerants() -> Response:
    """Every refrigerant that can be computed, and those that are refused by name."""
    refused = [{"designation": row.designation, "reason": row.reason} for row in known_but_not_computed()]
    return catalogue(
        {
            "refrigerants": [_described(item) for item in all_refrigerants()],
            "not_computed": refused,
            "provenance": provenance(),
        }
    )


@BLUEPRINT.get("/v1/refrigerants/<designation>")
def show_refrigerant(designation: str) -> Response:
    """One refrigerant."""
    return catalogue(_described(_found(designation)) | {"provenance": provenance()})


@BLUEPRINT.get("/v1/refrigerants/<designation>/saturation-table")
@query_parameters(*QUERY)
@produces("application/json", "text/csv")
def show_table(designation: str) -> Response:
    """Saturation pressures by temperature; gauge pressures at standard sea-level pressure."""
    refrigerant = _found(designation)
    query = read_query(refrigerant, request.args)
    rows = table_rows(refrigerant, query)
    if representation("application/json", "text/csv") == "text/csv":
        return catalogue(_as_csv(rows), "text/csv; charset=utf-8")
    return catalogue(
        {
            "refrigerant": refrigerant.designation,
            "rows": [dict(zip(COLUMNS, row, strict=True)) for row in rows],
            "units": {"temperature": query.units.temperature, "pressure": query.units.pressure},
            "provenance": provenance(),
        }
    )


def _found(designation: str) -> Refrigerant:
    try:
        return find(designation)
    except UnknownRefrigerant as unknown:
        raise ProblemError("request.not-found", f"{unknown.name}: {unknown.reason}. {LISTED}") from None


def _as_csv(rows: list[tuple[float, ...]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # RFC 4180
    writer.writerow(COLUMNS)
    writer.writerows(rows)
    return text.getvalue().encode()


def _described(item: Refrigerant) -> dict[str, Any]:
    """A refrigerant as the contract lists it; temperatures in degC, pressures in kPa absolute."""
    body: dict[str, Any] = {
        "designation": item.designation,
        "kind": item.kind,
        "composition": [
            {"component": share.designation, "mass_percent": share.mass_percent} for share in item.composition
        ],
        "safety_class": item.safety_class,
        "gwp": {"ar4": round(item.gwp_ar4, 1), "ar5": round(item.gwp_ar5, 1)},
        "ozone_depleting": item.ozone_depleting,
        "oils": list(item.oils),
        "charging_phase": item.charging_phase,
        "pressure_class": item.pressure_class,
        "glide": _glide(item),
        "critical_point": {
            "temperature": written(item.critical_temperature, "temperature", SI, STANDARD_ATMOSPHERE),
            "pressure": written(item.critical_pressure, "pressure", SI, STANDARD_ATMOSPHERE),
        },
        "valid_range": _valid_range(item),
        "cautions": list(item.cautions),
        "sources": dict(item.sources),
        "units": {"temperature": "degC", "pressure": "kPa", "glide": "K", "flammability_limit": "kg/m3"},
    }
    if item.lower_flammability_limit is not None:
        body["lower_flammability_limit"] = item.lower_flammability_limit
    return body


def _glide(item: Refrigerant) -> dict[str, float]:
    glide = {"at_dew_5_c": round(item.glide_at_dew_5_c, 2)}
    if item.glide_at_bubble_40_c is not None:
        glide["at_bubble_40_c"] = round(item.glide_at_bubble_40_c, 2)
    return glide


def _valid_range(item: Refrigerant) -> dict[str, float]:
    curve = item.saturation
    return {
        "lowest_temperature": written(curve.lowest_temperature, "temperature", SI, STANDARD_ATMOSPHERE),
        "highest_temperature": written(curve.highest_temperature, "temperature", SI, STANDARD_ATMOSPHERE),
        "lowest_pressure": written(curve.lowest_pressure, "pressure", SI, STANDARD_ATMOSPHERE),
        "highest_pressure": written(curve.highest_pressure, "pressure", SI, STANDARD_ATMOSPHERE),
    }
