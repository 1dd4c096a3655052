"""The pressure-temperature table of a refrigerant: its query and its rows."""

import math
from collections.abc import Mapping

from service.knowledge.refrigerant import Refrigerant
from service.results.out_of_range import OutOfRange
from service.results.record import Record
from service.results.refusal import FieldError, Phrase, phrase
from service.results.units import STANDARD_ATMOSPHERE, TABLE, Units, from_si, to_si, written
from service.schemas.lists.saturation import SaturationTableRow
from service.wire.described import Parameter, choice
from service.wire.problems import ProblemError

COLUMNS = ("temperature", "bubble_pressure", "dew_pressure")
MOST_ROWS = 1000
# A table for the gauge: -40 to 150 F (-40 to 65 C) covers comfort cooling; cut to the refrigerant's own range.
_NUMBER = (("type", "number"), ("format", "double"))
DEFAULTS = {"degF": (-40.0, 150.0, 5.0), "degC": (-40.0, 65.0, 5.0)}


LEAST_STEP, MOST_STEP = 0.01, 1000.0
LOWEST = Parameter("lowest", "Lowest temperature, in the temperature unit.", _NUMBER, 40)
HIGHEST = Parameter("highest", "Highest temperature, in the temperature unit.", _NUMBER, 60)
STEP = Parameter(
    "step",
    f"Step between two rows, {LEAST_STEP:g} to {MOST_STEP:g} in the temperature unit; the table has at most "
    f"{MOST_ROWS} rows.",
    (*_NUMBER, ("minimum", LEAST_STEP), ("maximum", int(MOST_STEP)), ("default", 5)),
    10,
)
TEMPERATURE_UNIT = choice("temperature_unit", "Unit of the temperatures.", *TABLE["temperature"])
PRESSURE_UNIT = choice(
    "pressure_unit",
    "Unit of the pressures; gauge pressures at standard sea-level pressure.",
    *TABLE["pressure"],
)
QUERY = (LOWEST, HIGHEST, STEP, TEMPERATURE_UNIT, PRESSURE_UNIT)


class TableQuery(Record):
    """Units and temperatures of a table, in the unit asked for."""

    units: Units
    temperatures: tuple[float, ...]


def read_query(refrigerant: Refrigerant, query: Mapping[str, str]) -> TableQuery:
    """The query of a saturation table. Raises: ProblemError 422 naming the parameter that is wrong."""
    units = Units(
        temperature=_choice(query, TEMPERATURE_UNIT),
        pressure=_choice(query, PRESSURE_UNIT),
    )
    low, high = _own_range(refrigerant, units)
    lowest, highest, step = DEFAULTS[units.temperature]
    unit = units.temperature
    lowest = _number(query, LOWEST.name, low, high, unit, max(lowest, math.ceil(low / step) * step))
    highest = _number(query, HIGHEST.name, lowest, high, unit, min(highest, math.floor(high / step) * step))
    step = _number(query, STEP.name, LEAST_STEP, MOST_STEP, unit, step)
    count = math.floor((highest - lowest) / step + 1e-9) + 1
    if count > MOST_ROWS:
        detail, allowed = (phrase(code, most=str(MOST_ROWS)) for code in ("query.rows", "range.rows"))
        raise _refused(STEP.name, detail, allowed)
    return TableQuery(units, tuple(round(lowest + index * step, 6) for index in range(count)))


def _own_range(refrigerant: Refrigerant, units: Units) -> tuple[float, float]:
    curve = refrigerant.saturation
    low = from_si(curve.lowest_temperature, "temperature", units, STANDARD_ATMOSPHERE)
    high = from_si(curve.highest_temperature, "temperature", units, STANDARD_ATMOSPHERE)
    return math.ceil(low * 100.0) / 100.0, math.floor(high * 100.0) / 100.0


def table_rows(refrigerant: Refrigerant, query: TableQuery) -> list[SaturationTableRow]:
    """Rows of temperature, bubble and dew pressure in the units asked for."""
    rows = []
    for shown in query.temperatures:
        temperature = to_si(shown, "temperature", query.units, STANDARD_ATMOSPHERE)
        try:
            pressures = (
                refrigerant.saturation.bubble_pressure(temperature),
                refrigerant.saturation.dew_pressure(temperature),
            )
        except OutOfRange:  # bubble and dew end at slightly different temperatures near the critical point
            continue
        rows.append(
            SaturationTableRow(
                shown, *(written(value, "pressure", query.units, STANDARD_ATMOSPHERE) for value in pressures)
            )
        )
    return rows


def _choice(query: Mapping[str, str], parameter: Parameter) -> str:
    allowed = parameter.allowed
    given = query.get(parameter.name, allowed[0])
    if given not in allowed:
        raise _refused(parameter.name, phrase("document.one-of", words=", ".join(allowed)), *allowed)
    return given


def _number(query: Mapping[str, str], name: str, low: float, high: float, unit: str, default: float) -> float:
    if name not in query:
        return default
    try:
        value = float(query[name]) if query[name].isascii() and "_" not in query[name] else math.nan
    except ValueError:
        value = math.nan
    if not low <= value <= high:
        allowed = phrase("range.between", low=f"{low:g}", high=f"{high:g} {unit}")
        raise _refused(name, phrase("query.number", range=allowed), allowed)
    return value


def _refused(name: str, detail: Phrase, *allowed: str | Phrase) -> ProblemError:
    error = FieldError("", "query.not-valid", detail, allowed, parameter=name)
    return ProblemError("request.not-valid", errors=(error,))
