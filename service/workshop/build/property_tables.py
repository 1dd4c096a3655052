"""Builds the tables of liquid and vapour properties that the service ships, from the property library."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import log, pi
from typing import Any

import numpy as np
from CoolProp import CoolProp
from scipy.interpolate import CubicSpline

from service.physics.cubic_table import FloatArray
from service.physics.saturation import SaturationCurve
from service.workshop.build.equilibrium import LIQUID, VAPOUR, Model, SaturatedState, saturation_line
from service.workshop.build.knots import Knots, knots, rounded
from service.workshop.build.saturation_tables import temperature_at

HIGHEST_SUPERHEAT = 120.0
CRITICAL_SHARE = 0.92
ROUNDING = 0.005
"""Width [K] by which the liquid tables reach beyond the pressure range: bubble temperatures are that exact."""
PRESSURES, SUPERHEATS = 14, 11
REFERENCE_TEMPERATURE, REFERENCE_ENTHALPY, REFERENCE_ENTROPY = 273.15, 200e3, 1e3
"""Saturated liquid at 0 C, reference state of the International Institute of Refrigeration."""

Field = Callable[[SaturatedState], float]


def property_table(
    model: Model, curve: SaturationCurve, critical_pressure: float, identity: dict[str, Any]
) -> dict[str, Any]:
    """Return the property table of one refrigerant as it is written to its file."""
    bubble, dew = saturation_line(model, LIQUID), saturation_line(model, VAPOUR)
    enthalpy_offset = REFERENCE_ENTHALPY - _at_reference(bubble, lambda point: point.enthalpy)
    entropy_offset = REFERENCE_ENTROPY - _at_reference(bubble, lambda point: point.entropy)
    fields: dict[str, Field] = {
        "density": lambda point: point.density,
        "log_density": lambda point: log(point.density),
        "enthalpy": lambda point: point.enthalpy + enthalpy_offset,
        "entropy": lambda point: point.entropy + entropy_offset,
        # Toward the critical point the specific heat grows without end, its reciprocal falls evenly.
        "reciprocal_specific_heat": lambda point: 1.0 / point.specific_heat,
    }
    return identity | {
        "liquid_by_temperature": _liquid(bubble, curve, fields),
        "vapour_by_fourth_root_of_pressure": _vapour(dew, curve, fields),
        "superheated": _superheated(model, dew, curve, critical_pressure, (enthalpy_offset, entropy_offset)),
    }


def _at_reference(line: Sequence[SaturatedState], field: Field) -> float:
    spline = CubicSpline([point.temperature for point in line], [field(point) for point in line])
    return float(spline(REFERENCE_TEMPERATURE))


def _liquid(line: Sequence[SaturatedState], curve: SaturationCurve, fields: dict[str, Field]) -> dict[str, Any]:
    coldest = temperature_at(line, curve.lowest_pressure) - ROUNDING
    warmest = temperature_at(line, curve.highest_pressure) + ROUNDING
    ends = [rounded(coldest), rounded(warmest)]
    at = [point.temperature for point in line]
    names = ("density", "enthalpy", "entropy", "reciprocal_specific_heat")
    return {"ends": ends} | {name: _column(at, line, fields[name], ends) for name in names}


def _vapour(line: Sequence[SaturatedState], curve: SaturationCurve, fields: dict[str, Field]) -> dict[str, Any]:
    # A hair wider than the pressures, so that rounding never puts an end outside.
    ends = [rounded(curve.lowest_pressure**0.25 - 1e-6), rounded(curve.highest_pressure**0.25 + 1e-6)]
    at = [point.pressure**0.25 for point in line]
    names = ("log_density", "enthalpy", "entropy", "reciprocal_specific_heat")
    return {"ends": ends} | {name: _column(at, line, fields[name], ends) for name in names}


def _column(at: Sequence[float], line: Sequence[SaturatedState], field: Field, ends: Sequence[float]) -> Knots:
    low, high = ends
    return knots(at, [field(point) for point in line], low, high)


def _superheated(
    model: Model,
    dew: Sequence[SaturatedState],
    curve: SaturationCurve,
    critical_pressure: float,
    offsets: tuple[float, float],
) -> dict[str, Any]:
    low = curve.lowest_pressure
    high = rounded(min(curve.highest_pressure, CRITICAL_SHARE * critical_pressure))
    x, y = _nodes(PRESSURES), _nodes(SUPERHEATS)
    quarter = 0.5 * (low**0.25 + high**0.25) + 0.5 * (high**0.25 - low**0.25) * x
    superheats = HIGHEST_SUPERHEAT * (0.5 * (1.0 + y)) ** 2
    state = model.state()
    state.specify_phase(CoolProp.iphase_gas)
    saturated = CubicSpline([log(point.pressure) for point in dew], [point.density for point in dew])
    values = np.array([_isobar(state, curve, float(p), superheats, float(saturated(log(p)))) for p in quarter**4])
    return {
        "pressure_range": [low, high],
        "highest_superheat": HIGHEST_SUPERHEAT,
        "enthalpy": _coefficients(x, y, values[:, :, 0] + offsets[0]),
        "entropy": _coefficients(x, y, values[:, :, 1] + offsets[1]),
        "log_compressibility": _coefficients(x, y, values[:, :, 2]),
    }


def _isobar(
    state: CoolProp.AbstractState,
    curve: SaturationCurve,
    pressure: float,
    superheats: FloatArray,
    density: float,
) -> list[tuple[float, float, float]]:
    """Return enthalpy, entropy and ln(density x dew temperature / pressure) along rising superheats."""
    dew = curve.dew_temperature(pressure)
    values = []
    for superheat in superheats:
        # From the saturated vapour outward each point starts the next: the library's own search for the
        # density fails here and there near the critical point.
        density = _vapour_density(state, pressure, dew + float(superheat), density)
        values.append((state.hmass(), state.smass(), log(density * dew / pressure)))
    return values


def _vapour_density(state: CoolProp.AbstractState, pressure: float, temperature: float, density: float) -> float:
    """Return the density [kg/m3] at which the state has the pressure, by Newton's method from a near one."""
    for _ in range(30):
        state.update(CoolProp.DmassT_INPUTS, density, temperature)
        step = (pressure - state.p()) / state.first_partial_deriv(CoolProp.iP, CoolProp.iDmass, CoolProp.iT)
        if abs(step) < 1e-11 * density:
            return density
        density += step
    raise ArithmeticError(f"no vapour density at {pressure:g} Pa and {temperature:g} K")


def _nodes(count: int) -> FloatArray:
    """Return the Chebyshev nodes in rising order."""
    result: FloatArray = -np.cos(pi * (np.arange(count) + 0.5) / count)
    return result


def _coefficients(x: FloatArray, y: FloatArray, values: FloatArray) -> list[list[float]]:
    """Return the product series through the values at Chebyshev nodes."""
    by_x = np.linalg.solve(np.polynomial.chebyshev.chebvander(x, len(x) - 1), values)
    both = np.linalg.solve(np.polynomial.chebyshev.chebvander(y, len(y) - 1), by_x.T).T
    return [[rounded_to(value, scale=float(np.abs(both).max())) for value in row] for row in both]


def rounded_to(value: float, scale: float) -> float:
    """Return a coefficient to a billionth of the largest: what is smaller is noise of the last bits."""
    step = 10.0 ** (np.floor(np.log10(scale)) - 9.0)
    return float(f"{round(value / step) * step:.11g}")
