"""The measured sound unit written as visit documents, as a technician at its service valves would send them."""

from typing import Any

from tests.laboratory import unit

# Not a nameplate's: its own subcooling [degF] at the liquid service valve near rating A (8.29 and 7.86), rounded.
OWN_SUBCOOLING = 8.0
UNITS = {"temperature": "degC", "pressure": "kPa", "airflow": "m3/h", "capacity": "kW"}


def visit(condition: int, **equipment: Any) -> dict[str, Any]:
    """The visit of a condition; equipment: members stated besides the usual ones. No electrical readings."""
    at, row = unit.CONDITIONS.index(condition), unit.measured()
    air_pressure = unit.barometer()[at]

    def celsius(name: str) -> float:
        return float(unit.kelvins(name)[at]) - 273.15

    def absolute(name: str) -> float:
        return float(unit.pascals(name)[at]) / 1e3

    return {
        "reference": f"laboratory-{condition}",
        "units": UNITS,
        "site": {"barometric_pressure": float(air_pressure) / 1e3},
        "equipment": {
            "kind": "split_air_conditioner",
            "refrigerant": "R-410A",
            "metering_device": "thermostatic_expansion_valve",
            "rated_capacity": 8.8,
            "compressor": {"type": "scroll", "drive": "single_phase"},
            **equipment,
        },
        "running": {
            "minutes_running": 30.0,
            "suction_pressure": absolute("suction_valve"),
            "liquid_pressure": absolute("liquid_line"),
            "suction_line_temperature": celsius("suction_valve"),
            "liquid_line_temperature": celsius("liquid_line"),
            "discharge_line_temperature": celsius("discharge"),
        },
        "air": {
            "outdoor_dry_bulb": celsius("outdoor"),
            "return_dry_bulb": celsius("return_dry_bulb"),
            "return_wet_bulb": float(unit.wet_bulbs("return")[at]) - 273.15,
            "supply_dry_bulb": celsius("supply_dry_bulb"),
            "supply_wet_bulb": float(unit.wet_bulbs("supply")[at]) - 273.15,
            "condenser_leaving_dry_bulb": celsius("outdoor_leaving"),
            "airflow": float(row["airflow_scfm"][at]) * unit.STANDARD_CFM * 3600.0,
        },
    }
