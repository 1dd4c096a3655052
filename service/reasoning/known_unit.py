"""What is known of this very unit, as the cycle model takes it: its sound visit, else what its own chart prints.

A baseline is the unit itself, as wide as its instruments. A chart is of the model and not of the unit: as wide as
its printed tolerance, and wider by how far sound units of one model differ (limits of the topics).
"""

from collections.abc import Iterator
from math import hypot
from typing import Any

from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.reasoning.cycle.gate import tells_of_the_unit
from service.reasoning.cycle_read import accuracies_of, conditions_of, readings_of, runs_at_full_speed
from service.results.cycle import CycleBaseline, CycleConditions, CycleReadings
from service.results.declare import is_empty
from service.results.finding import Missing
from service.results.visit import Baseline, PrintedNormals, Visit
from service.results.visit.document import visit_of_baseline
from service.verdicts.report import Checked

BASELINE, PRINTED = "baseline", "printed_normals"


def known_unit(visit: Visit, refrigerant: Refrigerant, today: CycleConditions) -> CycleBaseline | None:
    """How the unit reads when sound: by its baseline, else by its chart; None where neither tells.

    Of two, the first that can be used; where none can, the first, so that the answer says it was not used.
    """
    found = (_of_baseline(visit, refrigerant), _of_chart(visit, refrigerant, today))
    told = [one for one in found if one is not None]
    return next((one for one in told if tells_of_the_unit(one)), told[0] if told else None)


def check_known_unit(visit: Visit) -> Checked:
    """What a baseline and printed normals lack to be used."""
    return Checked(missing=(*_owed_by_baseline(visit), *_owed_by_chart(visit.printed_normals, visit)))


def _of_baseline(visit: Visit, refrigerant: Refrigerant) -> CycleBaseline | None:
    base = visit.baseline
    if base is None:
        return None
    then = visit_of_baseline(visit, base)
    conditions = conditions_of(then.air, then.site_pressure)
    if conditions is None or not runs_at_full_speed(then):
        return None
    readings = readings_of(then, refrigerant)
    return CycleBaseline(readings, conditions, accuracies_of(then, refrigerant), then.running.minutes_running)


def _of_chart(visit: Visit, refrigerant: Refrigerant, today: CycleConditions) -> CycleBaseline | None:
    """The chart's figures as readings: superheat and subcooling from its own pressures, approach from its air."""
    printed = visit.printed_normals
    if is_empty(printed):
        return None
    conditions = _row_of(printed, today)
    values: dict[str, Any] = {}
    widths: dict[str, float] = {}
    for name, value, width in _figures(printed, refrigerant, conditions.outdoor_dry_bulb):
        values[name], widths[name] = value, hypot(limit("normals.unit-spread").value, width)
    return CycleBaseline(CycleReadings(**values), conditions, widths, kind=PRINTED) if values else None


def _figures(
    printed: PrintedNormals, refrigerant: Refrigerant, outdoor: float
) -> Iterator[tuple[str, float, float]]:
    """(reading by the model's name, value [K], tolerance as a 95 % half-width [K]); the last of a name counts."""
    curve = refrigerant.saturation
    pressure, temperature = _tolerances(printed)
    if printed.suction_pressure is not None:
        boiling, slope = curve.dew_temperature_and_slope(printed.suction_pressure)
        yield "suction_saturation_temperature", boiling, pressure * slope
        if printed.superheat is not None:
            yield "suction_line_temperature", boiling + printed.superheat, hypot(pressure * slope, temperature)
    if printed.liquid_pressure is not None:
        condensing = curve.bubble_temperature(printed.liquid_pressure)
        width = pressure * curve.bubble_temperature_slope(printed.liquid_pressure)
        yield "liquid_saturation_temperature", condensing, width
        if printed.subcooling is not None:
            yield "liquid_line_temperature", condensing - printed.subcooling, hypot(width, temperature)
    if printed.approach is not None:
        yield "liquid_line_temperature", outdoor + printed.approach, temperature


def _row_of(printed: PrintedNormals, today: CycleConditions) -> CycleConditions:
    """The air that the row of the chart is for; today's where the row does not say."""
    outdoor, back, wet = printed.outdoor_dry_bulb, printed.return_dry_bulb, printed.return_wet_bulb
    return CycleConditions(
        today.outdoor_dry_bulb if outdoor is None else outdoor,
        today.return_dry_bulb if back is None else back,
        today.return_wet_bulb if wet is None else wet,
        today.barometric_pressure,
    )


def _tolerances(printed: PrintedNormals) -> tuple[float, float]:
    """Of pressures [Pa] and of temperatures [K]: as printed, else the usual ones."""
    pressure, temperature = printed.pressure_tolerance, printed.temperature_tolerance
    return (
        limit("normals.pressure-tolerance").value if pressure is None else pressure,
        limit("normals.temperature-tolerance").value if temperature is None else temperature,
    )


def _owed_by_baseline(visit: Visit) -> Iterator[Missing]:
    if visit.baseline is not None:
        yield from owed_of_conditions(visit.baseline, "/baseline", "missing.baseline-conditions")


def owed_of_conditions(read: Baseline | Visit, prefix: str, allows: str) -> Iterator[Missing]:
    """The air entering the coils, as far as it was not read: without it no visit can be a baseline."""
    air = read.air
    for name in ("outdoor_dry_bulb", "return_dry_bulb"):
        if getattr(air, name) is None:
            yield Missing(f"{prefix}/air/{name}", allows)
    if air.return_wet_bulb is None and air.return_relative_humidity is None:
        yield Missing(f"{prefix}/air/return_wet_bulb", allows)


def _owed_by_chart(printed: PrintedNormals, visit: Visit) -> Iterator[Missing]:
    if is_empty(printed):
        return
    if printed.superheat is not None and printed.suction_pressure is None:
        yield Missing("/printed_normals/suction_pressure", "missing.printed-normals-pressure")
    if printed.subcooling is not None and printed.liquid_pressure is None:
        yield Missing("/printed_normals/liquid_pressure", "missing.printed-normals-pressure")
    humid = visit.air.return_wet_bulb is not None or visit.air.return_relative_humidity is not None
    if printed.return_wet_bulb is None and not humid:
        yield Missing("/air/return_wet_bulb", "missing.printed-normals-humidity")
