"""Refrigerant-side and air-side readings."""

from service.results.declare import choice, flag, member, moment
from service.results.record import Record
from service.results.visit.ranges import (
    READ_AT,
    air_pressure,
    airflow,
    humidity,
    minutes,
    percent,
    pressure,
    temperature,
)


class Standing(Record):
    """Readings with the unit off and the pressures equalized."""

    pressure: float | None = pressure("Standing pressure, both sides equal.")
    ambient_temperature: float | None = temperature("Outdoor temperature in the shade.")
    indoor_temperature: float | None = temperature("Temperature at the indoor coil.")
    outdoor_fan_ran: bool | None = flag("The outdoor fan ran to bring the coil to outdoor temperature.")
    minutes_off: float | None = minutes("Minutes since the compressor stopped.")
    read_at: str | None = moment(READ_AT)


class StartUp(Record):
    """The gauges as the unit starts."""

    suction_pressure_before: float | None = pressure("Suction pressure before the start.")
    liquid_pressure_before: float | None = pressure("Liquid (high side) pressure before the start.")
    suction_pressure_after: float | None = pressure("Suction pressure after the start.")
    liquid_pressure_after: float | None = pressure("Liquid (high side) pressure after the start.")
    seconds_after: float | None = member("seconds", "Seconds after the start.", low=0.0, high=3600.0)
    sound: str | None = choice("What is heard.", "normal", "hum", "buzz", "rattle", "click_off")
    assist_trial: str | None = choice("What a start with a temporary start kit did.", "started", "did_not_start")
    read_at: str | None = moment(READ_AT)


class Running(Record):
    """Readings after the unit has run steadily."""

    minutes_running: float | None = minutes("Minutes of steady running.")
    suction_pressure: float | None = pressure(
        "Suction pressure at the suction service valve; in heating at the common suction port."
    )
    liquid_pressure: float | None = pressure("Pressure at the liquid service valve.")
    discharge_pressure: float | None = pressure("Pressure at the compressor discharge.")
    suction_line_temperature: float | None = temperature(
        "Suction line at the service valve; in heating between reversing valve and compressor."
    )
    liquid_line_temperature: float | None = temperature("Liquid line at the service valve.")
    vapor_line_temperature: float | None = temperature(
        "Large (vapor) line of a heat pump, indoors or at the service valve: cold in cooling, hot in heating."
    )
    discharge_line_temperature: float | None = temperature("Discharge line, 6 in (15 cm) from the compressor.")
    evaporator_outlet_temperature: float | None = temperature("Suction line at the evaporator outlet.")
    drier_inlet_temperature: float | None = temperature("Liquid line before the filter-drier.")
    drier_outlet_temperature: float | None = temperature("Liquid line after the filter-drier.")
    unloaded: bool | None = flag("A variable-speed or unloading compressor is at part load.")
    speed_percent: float | None = percent("Compressor speed in percent of full speed.", 200.0)
    stage: int | None = choice("Stage that is running.", 1, 2)
    outdoor_fan_on: bool | None = flag("The outdoor fan is running.")
    reversing_valve_suction_in_temperature: float | None = temperature("Suction line into the reversing valve.")
    reversing_valve_suction_out_temperature: float | None = temperature("Suction line out of the reversing valve.")
    pump_down_suction_pressure: float | None = pressure("Lowest suction pressure reached in the pump-down.")
    pump_down_holds: bool | None = flag("The pump-down pressure holds after the stop.")
    read_at: str | None = moment(READ_AT)


class Air(Record):
    """Air-side readings."""

    outdoor_dry_bulb: float | None = temperature("Air entering the condenser, in the shade.")
    condenser_leaving_dry_bulb: float | None = temperature("Air leaving the condenser.")
    return_dry_bulb: float | None = temperature("Return air at the indoor coil.")
    return_wet_bulb: float | None = temperature("Return air wet bulb.")
    return_relative_humidity: float | None = humidity("Return air relative humidity.")
    supply_dry_bulb: float | None = temperature("Supply air after the coil.")
    supply_wet_bulb: float | None = temperature("Supply air wet bulb.")
    supply_relative_humidity: float | None = humidity("Supply air relative humidity.")
    airflow: float | None = airflow("Indoor airflow, measured.")
    static_return: float | None = air_pressure("Return static pressure (negative).")
    static_supply: float | None = air_pressure("Supply static pressure.")
    static_rated: float | None = air_pressure("Rated external static pressure of the nameplate.")
    filter_drop: float | None = air_pressure("Pressure drop of the filter.")
    coil_drop: float | None = air_pressure("Pressure drop of the indoor coil.")
    read_at: str | None = moment(READ_AT)
