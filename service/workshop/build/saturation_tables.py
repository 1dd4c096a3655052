"""Builds the saturation tables that the service ships, from the property library.

The tables are written next to the loader that reads them. Building twice gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from math import ceil, floor, log
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline

from service.workshop.build.equilibrium import (
    LIQUID,
    VAPOUR,
    Model,
    SaturatedState,
    critical_point,
    saturation_line,
)
from service.workshop.build.knots import knots, rounded

LOWEST_TEMPERATURE = 203.15
"""-70 C: colder saturation is not met in comfort cooling, pump-down to a vacuum included."""
MARGIN = 1e-3
"""Share by which the pressure range reaches beyond the pressures of the temperature range, so that a pressure
from the table is accepted back after rounding."""
APART = 3e-9
"""Share by which the dew line of a blend is lowered (1e-7 K), so that rounding never crosses the two lines
where they touch in an azeotrope."""


def saturation_table(model: Model, identity: dict[str, Any]) -> dict[str, Any]:
    """Return the saturation table of one refrigerant as it is written to its file."""
    bubble = saturation_line(model, LIQUID)
    dew = saturation_line(model, VAPOUR)
    low, high = temperature_range(bubble, dew)
    pressures = [
        rounded(pressure_at(dew, low) * (1.0 - MARGIN)),
        rounded(pressure_at(bubble, high) * (1.0 + MARGIN)),
    ]
    lines = {"bubble": _logarithms(bubble)}
    if not _one_line(bubble, dew):
        lines["dew"] = _logarithms(dew, share=1.0 - APART)
    temperature, pressure = critical_point(model)
    return identity | {
        "critical_point": {"temperature": rounded(temperature), "pressure": rounded(pressure)},
        "temperature_range": [low, high],
        "pressure_range": pressures,
        "reciprocal_temperature_by_logarithm_of_pressure": _lines(lines, log(pressures[0]), log(pressures[1])),
        "logarithm_of_pressure_by_reciprocal_temperature": _lines(
            {name: line[::-1] for name, line in lines.items()}, 1.0 / high, 1.0 / low
        ),
    }


def _lines(lines: dict[str, tuple[list[float], list[float]]], low: float, high: float) -> dict[str, Any]:
    low, high = rounded(low), rounded(high)
    return {"ends": [low, high]} | {name: knots(*line, low, high) for name, line in lines.items()}


def temperature_range(bubble: Sequence[SaturatedState], dew: Sequence[SaturatedState]) -> tuple[float, float]:
    """Return the temperatures [K] for which both lines are known at the pressures of both lines."""
    coldest = max(temperature_at(dew, bubble[0].pressure / (1.0 - 2.0 * MARGIN)), dew[0].temperature)
    top = min(bubble[-1].pressure, dew[-1].pressure) / (1.0 + 2.0 * MARGIN)
    warmest = min(temperature_at(bubble, top), temperature_at(dew, top))
    # Half and whole degrees Celsius: a range that people can remember.
    low = max(LOWEST_TEMPERATURE, ceil(coldest - 273.15) + 273.15)
    return round(low, 2), round(floor((warmest - 273.15) * 2.0) / 2.0 + 273.15, 2)


def pressure_at(line: Sequence[SaturatedState], temperature: float) -> float:
    """Return the pressure [Pa] of a traced line at a temperature [K]."""
    logarithms, reciprocals = _logarithms(line)
    spline = CubicSpline(reciprocals[::-1], logarithms[::-1])
    return float(np.exp(spline(1.0 / temperature)))


def temperature_at(line: Sequence[SaturatedState], pressure: float) -> float:
    """Return the temperature [K] of a traced line at a pressure [Pa]."""
    return float(1.0 / CubicSpline(*_logarithms(line))(log(pressure)))


def _logarithms(line: Sequence[SaturatedState], share: float = 1.0) -> tuple[list[float], list[float]]:
    return [log(point.pressure * share) for point in line], [1.0 / point.temperature for point in line]


def _one_line(bubble: Sequence[SaturatedState], dew: Sequence[SaturatedState]) -> bool:
    """Return whether bubble and dew are one line: true for a pure fluid alone."""
    return all(abs(one.pressure / other.pressure - 1.0) < 1e-7 for one, other in zip(bubble, dew, strict=False))


def as_bytes(table: dict[str, Any]) -> bytes:
    """Return the table as it stands in its file."""
    return (json.dumps(table, separators=(",", ":"), ensure_ascii=True) + "\n").encode("ascii")
