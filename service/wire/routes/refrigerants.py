"""GET /v1/refrigerants, one refrigerant, and its saturation table as JSON or CSV."""

import csv
import io

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
from service.schemas.lists import refrigerants as declared
from service.schemas.lists.saturation import SaturationTable, SaturationTableRow, SaturationTableUnits
from service.schemas.refrigerant_list import refrigerant_alone, refrigerant_row
from service.wire.described import Example, Parameter, described
from service.wire.gate import produces, query_parameters
from service.wire.listing import listed, sent
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


@BLUEPRINT.get("/v1/refrigerants")
@described(
    "listRefrigerants",
    "Properties",
    answer=declared.RefrigerantList,
    examples=(Example("all", "The list"), Example("spanish", "The list in Spanish", language="es")),
)
def list_refrigerants() -> Response:
    """Refrigerants.

    Every refrigerant that can be computed, and those that are refused by name with the reason.
    """
    return listed(_refrigerants, language())


def _refrigerants(spoken: str) -> declared.RefrigerantList:
    refused = (
        declared.NotComputed(row.designation, said(phrase(row.reason), spoken)) for row in known_but_not_computed()
    )
    held = (refrigerant_row(item) for item in all_refrigerants())
    return declared.RefrigerantList(tuple(held), tuple(refused), provenance())


@BLUEPRINT.get("/v1/refrigerants/<designation>")
@described(
    "getRefrigerant",
    "Properties",
    answer=declared.Refrigerant,
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
    return sent(refrigerant_alone(_found(designation), provenance()))


@BLUEPRINT.get("/v1/refrigerants/<designation>/saturation-table")
@described(
    "getSaturationTable",
    "Properties",
    answer=SaturationTable,
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
    units = SaturationTableUnits(query.units.temperature, query.units.pressure)
    return sent(SaturationTable(refrigerant.designation, tuple(rows), units, provenance()))


def _found(designation: str) -> Refrigerant:
    try:
        return find(designation)
    except UnknownRefrigerant as unknown:
        detail = phrase("path.refrigerant", name=unknown.name, reason=phrase(unknown.reason))
        raise ProblemError("request.not-found", detail) from None


def _as_csv(rows: list[SaturationTableRow]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # RFC 4180
    writer.writerow(COLUMNS)
    writer.writerows((row.temperature, row.bubble_pressure, row.dew_pressure) for row in rows)
    return text.getvalue().encode()
