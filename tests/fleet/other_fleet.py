"""A simulated fleet by code of its own, with shares of its own: what `learn` is tried on.

Nothing of the service is used: R-410A by two published points of its pressure-temperature chart, straight lines
for a unit with an expansion valve in its weather, a wide spread between units, and faults of all sizes, down to
such as nobody can tell from a sound unit. Most of this fleet's calls end with nothing found, which is far from the
shipped shares. Every number here is made up; none is a claim about real units.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from typing import Any

# R-410A: 118 psig at 40 F, 365 psig at 110 F (pressure-temperature charts of the trade; from memory).
_LOW, _HIGH = (40.0, 118.0 + 14.7), (110.0, 365.0 + 14.7)
SOUND = "cause.none-found"
SHARES = {
    SOUND: 0.66,
    "cause.outdoor-coil-blocked": 0.12,
    "cause.low-indoor-airflow": 0.10,
    "cause.undercharge": 0.05,
    "cause.overcharge": 0.07,
}
COMPLAINTS = ("poor_cooling", "high_bill", "runs_constantly")
KINDS = ("split_air_conditioner", "split_heat_pump")
MONTHS = ("05", "06", "07", "08", "09")


def psig(saturation: float) -> float:
    """Saturation pressure: the logarithm is a straight line over 1/T between the two points."""
    cold, warm = (1.0 / (point[0] + 459.67) for point in (_LOW, _HIGH))
    slope = math.log(_HIGH[1] / _LOW[1]) / (warm - cold)
    return _LOW[1] * math.exp(slope * (1.0 / (saturation + 459.67) - cold)) - 14.7


def visits(number: int, seed: str) -> Iterator[tuple[dict[str, Any], str]]:
    """So many visits with what was wrong; another seed is another fleet of the same shares."""
    for at in range(number):
        draw = random.Random(f"{seed}/{at}")
        truth = draw.choices(list(SHARES), list(SHARES.values()))[0]
        yield _visit(draw, truth, f"{seed}-{at}"), truth


def _visit(draw: random.Random, truth: str, reference: str) -> dict[str, Any]:
    outdoor, wet_bulb = draw.uniform(80, 100), draw.uniform(62, 69)
    unit = _sound(draw, outdoor, wet_bulb)
    size = draw.uniform(0.1, 1.2)
    for name, by in _MOVES.get(truth, {}).items():
        unit[name] += size * by
    running = {
        "minutes_running": 20,
        "suction_pressure": psig(unit["evaporating"]) + draw.gauss(0, 1.0),
        "liquid_pressure": psig(unit["condensing"]) + draw.gauss(0, 2.0),
        "suction_line_temperature": unit["evaporating"] + unit["superheat"] + draw.gauss(0, 0.8),
        "liquid_line_temperature": unit["condensing"] - unit["subcooling"] + draw.gauss(0, 0.8),
    }
    air = {
        "outdoor_dry_bulb": outdoor,
        "return_dry_bulb": 78.0,
        "return_wet_bulb": wet_bulb,
        "supply_dry_bulb": 78.0 - unit["split"] + draw.gauss(0, 0.5),
    }
    return {
        "reference": reference,
        "visit_date": f"2026-{draw.choice(MONTHS)}-{draw.randint(1, 28):02d}",
        "equipment": {
            "kind": draw.choice(KINDS),
            "refrigerant": "R-410A",
            "metering_device": "thermostatic_expansion_valve",
            "target_subcooling": 10,
        },
        "complaint": {"symptoms": [draw.choice(COMPLAINTS)]},
        "running": {name: round(value, 1) for name, value in running.items()},
        "air": {name: round(value, 1) for name, value in air.items()},
    }


def _sound(draw: random.Random, outdoor: float, wet_bulb: float) -> dict[str, float]:
    """A sound unit [F]: every one a little different from the next."""
    return {
        "evaporating": 46.0 + 0.8 * (wet_bulb - 67.0) + 0.08 * (outdoor - 95.0) + draw.gauss(0, 2.0),
        "condensing": outdoor + 18.0 + 0.1 * (wet_bulb - 67.0) + draw.gauss(0, 3.2),
        "superheat": 11.0 + draw.gauss(0, 2.8),
        "subcooling": 10.0 + draw.gauss(0, 2.4),
        "split": 19.0 - 0.9 * (wet_bulb - 67.0) + draw.gauss(0, 1.8),
    }


# What a fault of size 1 moves [F]; made up, of the direction that textbooks give.
_MOVES: dict[str, dict[str, float]] = {
    "cause.undercharge": {
        "evaporating": -8.0,
        "condensing": -6.0,
        "superheat": 14.0,
        "subcooling": -8.0,
        "split": -3.0,
    },
    "cause.overcharge": {"condensing": 8.0, "subcooling": 10.0, "evaporating": 1.0},
    "cause.low-indoor-airflow": {"evaporating": -7.0, "condensing": -2.5, "superheat": -3.0, "split": 5.0},
    "cause.outdoor-coil-blocked": {"condensing": 14.0, "evaporating": 1.5, "subcooling": -1.0, "split": -0.8},
}
