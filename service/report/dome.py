"""The two lines of saturation of a refrigerant in pressure and enthalpy."""

from collections.abc import Callable

import numpy as np

from service.knowledge.refrigerant import Refrigerant

POINTS = 60
Line = tuple[list[float], list[float]]


def bubble_line(refrigerant: Refrigerant, lowest: float) -> Line:
    """Enthalpies [J/kg] and pressures [Pa] of saturated liquid from `lowest` [Pa] up."""
    curve, saturated = refrigerant.saturation, refrigerant.properties.saturated
    return _line(refrigerant, lowest, lambda at: saturated.liquid_enthalpy(curve.bubble_temperature(at)))


def dew_line(refrigerant: Refrigerant, lowest: float) -> Line:
    """Enthalpies [J/kg] and pressures [Pa] of saturated vapour from `lowest` [Pa] up."""
    return _line(refrigerant, lowest, refrigerant.properties.saturated.vapour_enthalpy)


def _line(refrigerant: Refrigerant, lowest: float, enthalpy: Callable[[float], float]) -> Line:
    """Evenly spaced on the pressure axis, up to where the tables end below the critical point."""
    low = max(lowest, refrigerant.saturation.lowest_pressure)
    pressures = [float(value) for value in np.geomspace(low, refrigerant.saturation.highest_pressure, POINTS)]
    pressures[0], pressures[-1] = low, refrigerant.saturation.highest_pressure  # not a rounding beyond the tables
    return [enthalpy(pressure) for pressure in pressures], pressures
