"""Visits of sound units: pressures that makers print as normal, with ordinary superheat and subcooling.

Source of the pressures: ``printed_pressures.csv`` (see its head). Superheat and subcooling are the trade's
ordinary ones (a fixed orifice by the usual rule (3 wet bulb - 80 - outdoor)/2 in degF), spread by ``AROUND``;
common practice, no source.
"""

from pathlib import Path
from typing import Any

from service.knowledge.refrigerants import find
from tests.simulated.panel import UNITS

SUBCOOLING = (8.0, 10.0, 12.0)
SUPERHEAT = (8.0, 10.0, 13.0)
AROUND = (-3.0, 0.0, 3.0)
TOLERANCE = 10.0  # psi, as set B prints it
TABLE = Path(__file__).with_name("printed_pressures.csv")


def printed_rows() -> list[dict[str, str]]:
    """Every printed pair of pressures, as the table has it."""
    lines = [line for line in TABLE.read_text().splitlines() if line and not line.startswith("#")]
    names, *rows = [line.split(",") for line in lines]
    return [dict(zip(names, row, strict=True)) for row in rows]


def printed_visits() -> list[dict[str, Any]]:
    """Every printed pair of pressures as visit documents, nine each."""
    return [visit for row in printed_rows() for visit in _visits(row)]


def _visits(row: dict[str, str]) -> list[dict[str, Any]]:
    orifice = row["metering"] == "fixed_orifice"
    outdoor = float(row["outdoor_db_f"])
    rule = (3.0 * 67.0 - 80.0 - outdoor) / 2.0
    heats = [max(rule + away, 5.0) for away in AROUND] if orifice else SUPERHEAT
    return [_visit(row, heat, cool) for heat in heats for cool in SUBCOOLING]


def _visit(row: dict[str, str], superheat: float, subcooling: float) -> dict[str, Any]:
    curve = find(row["refrigerant"]).saturation
    suction, liquid = float(row["suction_psig"]), float(row["high_psig"])
    boiling = curve.dew_temperature((suction + 14.696) * 6894.757) - 273.15
    condensing = curve.bubble_temperature((liquid + 14.696) * 6894.757) - 273.15
    packaged = row["set"] == "A"
    pump = "heat_pump" in row["unit"]
    kind = ("packaged" if packaged else "split") + ("_heat_pump" if pump else "_air_conditioner")
    device = {"metering_device": row["metering"]} if row["metering"] != "not stated" else {}
    return {
        "reference": f"printed-{row['unit']}-{row['outdoor_db_f']}",
        "units": UNITS | {"pressure": "psia"},
        "site": {"barometric_pressure": 14.696},
        "equipment": {"kind": kind, "refrigerant": row["refrigerant"]} | device,
        "running": {
            "minutes_running": 20.0,
            "suction_pressure": suction + 14.696,
            "liquid_pressure": liquid + 14.696,
            "suction_line_temperature": boiling + superheat / 1.8,
            "liquid_line_temperature": condensing - subcooling / 1.8,
        },
        "air": {
            "outdoor_dry_bulb": (float(row["outdoor_db_f"]) - 32.0) / 1.8,
            "return_dry_bulb": 80.0 / 1.8 - 32.0 / 1.8,
            "return_wet_bulb": (67.0 - 32.0) / 1.8,
            "supply_dry_bulb": (60.5 - 32.0) / 1.8,
        },
    }


def with_chart(visit: dict[str, Any], away: float) -> dict[str, Any]:
    """The visit with the normals that its own chart prints.

    away [psi]: the suction pressure reads so far above the chart, the liquid pressure twice as far; up to the
    tolerance of 10 psi that set B prints the unit is sound by its chart.
    """
    running = visit["running"]
    printed = {
        "suction_pressure": running["suction_pressure"] - away,
        "liquid_pressure": running["liquid_pressure"] - 2.0 * away,
        "pressure_tolerance": TOLERANCE,
    }
    return {**visit, "printed_normals": printed}
