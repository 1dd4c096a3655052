"""Saturation properties by interpolation in CoolProp's own values: nothing of the service's fits."""

from functools import cache

import numpy as np
from CoolProp.CoolProp import PropsSI

from service.results.record import Record

FLUIDS = {"R-410A": "R410A", "R-22": "R22"}
GRID = np.linspace(235.0, 341.0, 213)


class Saturation(Record):
    """Columns over temperatures GRID [K]: pressure [Pa], enthalpies [J/kg], densities [kg/m3], heat of vapour and
    liquid [J/(kg K)]. Glide (0.1 K) is left out."""

    columns: dict[str, np.ndarray]

    def at(self, name: str, temperature: np.ndarray) -> np.ndarray:
        """A property at saturation temperature [K], held at the ends of the grid."""
        return np.interp(temperature, GRID, self.columns[name])

    def temperature(self, pressure: np.ndarray) -> np.ndarray:
        """Saturation temperature [K] at a pressure [Pa]."""
        return np.interp(np.log(np.maximum(pressure, 1e4)), np.log(self.columns["pressure"]), GRID)


@cache
def saturation(refrigerant: str) -> Saturation:
    """Tabulate one refrigerant."""
    fluid = FLUIDS[refrigerant]

    def liquid(name: str) -> np.ndarray:
        return np.array([PropsSI(name, "T", t, "Q", 0, fluid) for t in GRID])

    def vapour(name: str) -> np.ndarray:
        return np.array([PropsSI(name, "T", t, "Q", 1, fluid) for t in GRID])

    pressure = vapour("P")
    gas = vapour("H")
    warm = np.array([PropsSI("H", "T", t + 15.0, "P", p, fluid) for t, p in zip(GRID, pressure, strict=True)])
    fluid_heat = np.gradient(liquid("H"), GRID)
    return Saturation(
        {
            "pressure": pressure,
            "liquid": liquid("H"),
            "vapour": gas,
            "liquid_density": liquid("D"),
            "vapour_density": vapour("D"),
            "vapour_heat": (warm - gas) / 15.0,
            "liquid_heat": np.minimum(fluid_heat, 3000.0),
        }
    )
