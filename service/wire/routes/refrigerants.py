"""GET /v1/refrigerants, one refrigerant, and its saturation table as JSON or CSV."""

import csv
import io
from dataclasses import asdict
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
from service.results.refusal import phrase
from service.results.units import STANDARD_ATMOSPHERE, Units, written
from service.schemas import refrigerant_shapes as shapes
from service.wire.described import Example, Parameter, described
from service.wire.gate import produces, query_parameters
from service.wire.problems import ProblemError
from service.wire.reading import language, representation
from service.wire.responding import catalogue
from service.wire.routes.saturation_table import COLUMNS, QUERY, read_query, table_rows
from service.words.refusing import said

BLUEPRINT = Blueprint("refrigerants", __name__)
DESIGNATION = Parameter(
    "designation",
    "ASHRAE 34 designation; R-410A, R410A and 410a all read.",
    (("type", "string"), ("minLength", 1), ("maxLength", 24)),
    "R-410A",
)
TABLES = (
    Example(
        "gauge",
        "R-410A in psig",
        path=(("designation", "R-410A"),),
        query=(("lowest", "40"), ("highest", "60"), ("step", "10")),
    ),
    Example(
        "absolute",
        "R-454B in kPa absolute",
        path=(("designation", "R-454B"),),
        query=(
            ("lowest", "0"),
            ("highest", "40"),
            ("step", "20"),
            ("temperature_unit", "degC"),
            ("pressure_unit", "kPa"),
        ),
    ),
)
SI = Units(temperature="degC", pressure="kPa")


@BLUEPRINT.get("/v1/refrigerants")
@described(
    "listRefrigerants",
    "Properties",
    answer=shapes.RefrigerantListShape,
    examples=(Example("all", "The list"), Example("spanish", "The list in Spanish", language="es")),
)
def list_refrigerants() -> Response:
    """Refrigerants.

    Every refrigerant that can be computed, and those that are refused by name with the reason.
    """
    spoken = language()
    refused = [
        {"designation": row.designation, "reason": said(phrase(row.reason), spoken)}
        for row in known_but_not_computed()
    ]
    return catalogue(
        {
            "refrigerants": [_described(item) for item in all_refrigerants()],
            "not_computed": refused,
            "provenance": provenance(),
        },
        language=spoken,
    )


@BLUEPRINT.get("/v1/refrigerants/<designation>")
@described(
    "getRefrigerant",
    "Properties",
    answer=shapes.Refrigerant,
    path=(DESIGNATION,),
    spoken=False,
    examples=(
        Example("blend", "R-410A", path=(("designation", "R-410A"),)),
        Example("pure", "R-32, written without a dash", path=(("designation", "r32"),)),
    ),
)
def show_refrigerant(designation: str) -> Response:
    """One refrigerant.

    Composition, safety class, glide, critical point and the range that can be computed.
    """
    return catalogue(_described(_found(designation)) | {"provenance": provenance()})


@BLUEPRINT.get("/v1/refrigerants/<designation>/saturation-table")
@described(
    "getSaturationTable",
    "Properties",
    answer=shapes.SaturationTableShape,
    path=(DESIGNATION,),
    spoken=False,
    examples=TABLES,
)
@query_parameters(*QUERY)
@produces("application/json", "text/csv")
def show_table(designation: str) -> Response:
    """Saturation table of a refrigerant.

    Bubble and dew pressure by temperature, as JSON or CSV (Accept: text/csv).
    """
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
        detail = phrase("path.refrigerant", name=unknown.name, reason=phrase(unknown.reason))
        raise ProblemError("request.not-found", detail) from None


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
    if item.row.saturation_percent:
        body["saturation_uncertainty_percent"] = item.row.saturation_percent
    if item.row.transport is not None:
        body["transport"] = asdict(item.row.transport)
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
