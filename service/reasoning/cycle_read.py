"""What was read at a unit in the terms of the cycle model: conditions, readings, and how wide they are."""

import math
from typing import Any

from service.knowledge.refrigerant import Refrigerant
from service.physics.moist_air import from_relative_humidity, wet_bulb
from service.reasoning.standing_excess import standing_excess
from service.results.cycle import CycleConditions, CycleReadings
from service.results.out_of_range import OutOfRange
from service.results.record import fields
from service.results.visit import Visit
from service.results.visit.cooling import Air, Running
from service.verdicts.instruments import accuracy
from service.verdicts.mode import judges_cooling


def runs_at_full_speed(visit: Visit) -> bool:
    """Whether it was read as the simulated units run: in cooling, at one speed, fully loaded."""
    equipment, running = visit.equipment, visit.running
    return not (
        not judges_cooling(visit)
        or equipment.compressor.drive == "inverter"
        or equipment.metering_location == "outdoor"
        or running.unloaded
        or (running.stage == 1 and (equipment.stages or 1) > 1)
    )


def conditions_of(air: Air, site_pressure: float) -> CycleConditions | None:
    """Air entering the coils; None where one of the two dry bulbs was not read."""
    if air.outdoor_dry_bulb is None or air.return_dry_bulb is None:
        return None
    return CycleConditions(
        air.outdoor_dry_bulb, air.return_dry_bulb, _return_wet_bulb(air, site_pressure), site_pressure
    )


def _return_wet_bulb(air: Air, site_pressure: float) -> float | None:
    if air.return_wet_bulb is not None or air.return_relative_humidity is None or air.return_dry_bulb is None:
        return air.return_wet_bulb
    return wet_bulb_of_humidity(air.return_dry_bulb, air.return_relative_humidity, site_pressure)


def wet_bulb_of_humidity(dry_bulb: float, relative_humidity: float, pressure: float) -> float | None:
    """Wet bulb [K] of air at dry_bulb [K], relative_humidity [0..1] and pressure [Pa]; None where no air is so."""
    try:
        return wet_bulb(from_relative_humidity(dry_bulb, relative_humidity, pressure))
    except OutOfRange:
        return None


def readings_of(visit: Visit, refrigerant: Refrigerant) -> CycleReadings:
    """The readings of a visit by the model's names."""
    return CycleReadings(
        **_gauges(visit.running, refrigerant),
        **_air_readings(visit.air, visit.site_pressure),
        airflow_per_capacity=_ratio(visit.air.airflow, visit.equipment.rated_capacity),
        compressor_amps_ratio=_ratio(
            visit.electrical.currents.compressor_amps, visit.equipment.compressor.rated_load_amps
        ),
        voltage_ratio=_voltage_ratio(visit),
        standing_saturation_excess=standing_excess(visit, refrigerant),
        pump_down_holds=visit.running.pump_down_holds,
    )


def _gauges(running: Running, refrigerant: Refrigerant) -> dict[str, Any]:
    curve = refrigerant.saturation
    suction, liquid = running.suction_pressure, running.liquid_pressure
    drop = None
    if running.drier_inlet_temperature is not None and running.drier_outlet_temperature is not None:
        drop = running.drier_inlet_temperature - running.drier_outlet_temperature
    return {
        "suction_saturation_temperature": None if suction is None else curve.dew_temperature(suction),
        "liquid_saturation_temperature": None if liquid is None else curve.bubble_temperature(liquid),
        "suction_line_temperature": running.suction_line_temperature,
        "liquid_line_temperature": running.liquid_line_temperature,
        "discharge_line_temperature": running.discharge_line_temperature,
        "drier_temperature_drop": drop,
    }


def _air_readings(air: Air, site_pressure: float) -> dict[str, Any]:
    wet = air.supply_wet_bulb
    if wet is None and air.supply_relative_humidity is not None and air.supply_dry_bulb is not None:
        wet = wet_bulb_of_humidity(air.supply_dry_bulb, air.supply_relative_humidity, site_pressure)
    return {
        "supply_dry_bulb": air.supply_dry_bulb,
        "supply_wet_bulb": wet,
        "condenser_leaving_dry_bulb": air.condenser_leaving_dry_bulb,
    }


def _ratio(over: float | None, under: float | None) -> float | None:
    return over / under if over is not None and under else None


def _voltage_ratio(visit: Visit) -> float | None:
    """Running volts over the nearer nameplate voltage; 208/230 V equipment is rated at 230 V."""
    nominal = visit.equipment.nominal_voltage
    if nominal is None or visit.electrical.supply.running_volts is None:
        return None
    return visit.electrical.supply.running_volts / float(nominal.split("_")[-1])


def accuracies_of(visit: Visit, refrigerant: Refrigerant) -> dict[str, float]:
    """Stated accuracies, by the names of the model's readings; gauges through the slope of the saturation line."""
    given = visit.instruments
    stated: dict[str, float] = {}
    stated |= _of_ratios(visit) | _of_two_instruments(visit, refrigerant)
    if given.temperature_accuracy is not None:
        names = [item.name for item in fields(CycleReadings) if item.name.endswith(("line_temperature", "_bulb"))]
        names += ["outdoor_dry_bulb", "return_dry_bulb", "return_wet_bulb"]
        stated |= dict.fromkeys(names, given.temperature_accuracy)
    if given.pressure_accuracy is not None:
        curve, running = refrigerant.saturation, visit.running
        if running.suction_pressure is not None:
            slope = curve.dew_temperature_slope(running.suction_pressure)
            stated["suction_saturation_temperature"] = given.pressure_accuracy * slope
        if running.liquid_pressure is not None:
            slope = curve.bubble_temperature_slope(running.liquid_pressure)
            stated["liquid_saturation_temperature"] = given.pressure_accuracy * slope
    return stated


def _of_two_instruments(visit: Visit, refrigerant: Refrigerant) -> dict[str, float]:
    """Two clamps at the drier, gauge and thermometer at a standing unit: each errs by itself."""
    given = visit.instruments
    stated: dict[str, float] = {}
    if given.temperature_accuracy is not None:
        stated["drier_temperature_drop"] = math.sqrt(2.0) * given.temperature_accuracy
    pressure = visit.standing.pressure
    if pressure is not None and None not in (given.temperature_accuracy, given.pressure_accuracy):
        at = accuracy(visit)
        gauge = at.liquid_pressure * refrigerant.saturation.bubble_temperature_slope(pressure)
        stated["standing_saturation_excess"] = math.hypot(gauge, at.temperature)
    return stated


def _of_ratios(visit: Visit) -> dict[str, float]:
    """Amps over rated amps, at volts over nominal volts, and airflow over capacity, by the accuracies stated."""
    given = visit.instruments
    stated: dict[str, float] = {}
    amps = _ratio(visit.electrical.currents.compressor_amps, visit.equipment.compressor.rated_load_amps)
    if given.electrical_accuracy_percent is not None and amps is not None:
        volts = _voltage_ratio(visit) or 1.0
        share = given.electrical_accuracy_percent / 100.0
        stated["compressor_amps_ratio"] = math.sqrt(2.0) * share * amps * volts
    airflow = _ratio(visit.air.airflow, visit.equipment.rated_capacity)
    if given.airflow_accuracy_percent is not None and airflow is not None:
        stated["airflow_per_capacity"] = given.airflow_accuracy_percent / 100.0 * airflow
    return stated
