"""Visits of sound wall-mounted units: pressures that a maker prints as normal, ordinary superheat and subcooling.

Source of the pressures: the head of ``printed_wall_units.csv``; superheat and subcooling as ``printed`` has them.
"""

from pathlib import Path
from typing import Any

from service.knowledge.refrigerants import find
from tests.outside.printed import SUBCOOLING, SUPERHEAT
from tests.simulated.panel import UNITS

TABLE = Path(__file__).with_name("printed_wall_units.csv")
HOTTEST = 115.0  # degF outdoors: beyond it nothing was simulated
KIND = "single_package_vertical_air_conditioner"


def wall_rows() -> list[dict[str, str]]:
    """Every printed pair of pressures within the simulated weather."""
    lines = [line for line in TABLE.read_text().splitlines() if not line.startswith("#")]
    names, *rows = [line.split(",") for line in lines]
    found = [dict(zip(names, row, strict=True)) for row in rows]
    return [row for row in found if float(row["outdoor_db_f"]) <= HOTTEST]


def saturations(row: dict[str, str]) -> tuple[float, float]:
    """Evaporating (dew) and condensing (bubble) temperature of a row [K]."""
    curve = find(row["refrigerant"]).saturation
    low, high = ((float(row[name]) + 14.696) * 6894.757 for name in ("suction_psig", "high_psig"))
    return curve.dew_temperature(low), curve.bubble_temperature(high)


def wall_visits(kind: str = KIND) -> list[dict[str, Any]]:
    """Every row as nine visits."""
    return [_visit(row, kind, heat, cool) for row in wall_rows() for heat in SUPERHEAT for cool in SUBCOOLING]


def _visit(row: dict[str, str], kind: str, superheat: float, subcooling: float) -> dict[str, Any]:
    boiling, condensing = saturations(row)
    dry, wet = float(row["return_db_f"]), float(row["return_wb_f"])
    return {
        "reference": f"wall-{row['unit']}-{row['return_db_f']}-{row['outdoor_db_f']}",
        "units": UNITS | {"pressure": "psia", "temperature": "degF"},
        "site": {"barometric_pressure": 14.696},
        "equipment": {"kind": kind, "refrigerant": row["refrigerant"]},
        "running": {
            "minutes_running": 20.0,
            "suction_pressure": float(row["suction_psig"]) + 14.696,
            "liquid_pressure": float(row["high_psig"]) + 14.696,
            "suction_line_temperature": (boiling - 273.15) * 1.8 + 32.0 + superheat,
            "liquid_line_temperature": (condensing - 273.15) * 1.8 + 32.0 - subcooling,
        },
        "air": {
            "outdoor_dry_bulb": float(row["outdoor_db_f"]),
            "return_dry_bulb": dry,
            "return_wet_bulb": wet,
            "supply_dry_bulb": dry - 19.5,
        },
    }
