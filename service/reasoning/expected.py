"""What this unit would read here and now if sound, and once its leading fault is repaired."""

from collections.abc import Callable, Mapping

from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.reasoning.expected_cool import cool_weather_ranges, is_cool
from service.results.cycle import CycleInputs, CycleLoss, CycleVerdict, Range
from service.results.expected import (
    ExpectedAir,
    ExpectedComputed,
    ExpectedCurrents,
    ExpectedElectrical,
    ExpectedReadings,
    ExpectedRunning,
    ExpectedStanding,
    LossComputed,
    RangeOf,
)
from service.results.out_of_range import OutOfRange
from service.results.visit import Visit
from service.verdicts.refrigerant_held import refrigerant_held

Ranges = Mapping[str, Range]


def expected_computed(visit: Visit, inputs: CycleInputs | None, verdict: CycleVerdict | None) -> ExpectedComputed:
    """Expected readings with 90 % ranges; the standing pressure alone where the model does not speak."""
    refrigerant = refrigerant_held(visit)
    if refrigerant is None:
        return ExpectedComputed()
    if inputs is None or verdict is None or not (verdict.expected or is_cool(inputs)):
        return ExpectedComputed(ExpectedReadings(standing=ExpectedStanding(_saturated(visit, refrigerant))))
    if not verdict.expected:
        return ExpectedComputed(expected_readings(visit, refrigerant, cool_weather_ranges(inputs)))
    return ExpectedComputed(
        expected_readings(visit, refrigerant, verdict.expected),
        expected_readings(visit, refrigerant, verdict.after_repair),
        loss_computed(verdict.loss),
    )


def expected_readings(visit: Visit, refrigerant: Refrigerant, ranges: Ranges) -> ExpectedReadings:
    """The model's ranges as readings of the visit document, pressures through the refrigerant's saturation."""
    curve = refrigerant.saturation
    return ExpectedReadings(
        running=ExpectedRunning(
            suction_pressure=_pressure(ranges.get("suction_saturation_temperature"), curve.dew_pressure),
            liquid_pressure=_pressure(ranges.get("liquid_saturation_temperature"), curve.bubble_pressure),
            drier_temperature_drop=_scaled(ranges.get("drier_temperature_drop"), 1.0, "temperature_difference"),
            **{
                name: _scaled(ranges.get(name), 1.0, "temperature")
                for name in ("suction_line_temperature", "liquid_line_temperature", "discharge_line_temperature")
            },
        ),
        air=ExpectedAir(
            airflow=_scaled(ranges.get("airflow_per_capacity"), visit.equipment.rated_capacity, "airflow"),
            **{
                name: _scaled(ranges.get(name), 1.0, "temperature")
                for name in ("supply_dry_bulb", "supply_wet_bulb", "condenser_leaving_dry_bulb")
            },
        ),
        standing=ExpectedStanding(_standing(visit, refrigerant, ranges)),
        electrical=ExpectedElectrical(
            ExpectedCurrents(
                _scaled(ranges.get("compressor_amps_ratio"), visit.equipment.compressor.rated_load_amps, "amps")
            )
        ),
    )


def _scaled(found: Range | None, by: float | None, kind: str) -> RangeOf | None:
    if found is None or by is None:
        return None
    return RangeOf(found.low * by, found.likely * by, found.high * by, kind)


def _pressure(found: Range | None, pressure_at: Callable[[float], float]) -> RangeOf | None:
    if found is None:
        return None
    try:
        return RangeOf(pressure_at(found.low), pressure_at(found.likely), pressure_at(found.high), "pressure")
    except OutOfRange:  # a range that reaches past the critical point has no pressure to tell
        return None


def _standing(visit: Visit, refrigerant: Refrigerant, ranges: Ranges) -> RangeOf | None:
    found, outdoor = ranges.get("standing_saturation_excess"), visit.air.outdoor_dry_bulb
    if found is None or outdoor is None:
        return _saturated(visit, refrigerant)
    at_outdoor = Range(outdoor + found.low, outdoor + found.likely, outdoor + found.high)
    return _pressure(at_outdoor, refrigerant.saturation.bubble_pressure)


def _saturated(visit: Visit, refrigerant: Refrigerant) -> RangeOf | None:
    """Saturation at the outdoor air: where liquid stands, the pressure needs no model; None without that air.

    The liquid may lie at the indoor coil, so the return air, where read, widens the range.
    """
    outdoor, back = visit.air.outdoor_dry_bulb, visit.air.return_dry_bulb
    if outdoor is None:
        return None
    width = limit("expected.standing-width").value
    places = (outdoor, outdoor if back is None else back)
    return _pressure(
        Range(min(places) - width, outdoor, max(places) + width), refrigerant.saturation.bubble_pressure
    )


def loss_computed(loss: CycleLoss | None) -> LossComputed:
    """Capacity, power and efficiency lost by the leading fault."""
    if loss is None:
        return LossComputed()
    return LossComputed(
        _scaled(loss.capacity, 1.0, "ratio"),
        _scaled(loss.power, 1.0, "ratio"),
        _scaled(loss.efficiency, 1.0, "ratio"),
    )
