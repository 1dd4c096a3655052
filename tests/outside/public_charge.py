"""Charge held by a coil: areas of its zones times its volume. Ours, because the public package has none.

Two phases: void fraction with the slip of Zivi (1964; from memory), averaged over quality. Gas over saturation is
taken as an ideal gas from its saturated density, liquid as saturated liquid of its enthalpy.
"""

from functools import cache
from typing import Any

import numpy as np
from CoolProp.CoolProp import PropsSI

QUALITIES = 9
GAS_HEAT = 1100.0  # J/(kg K) of gas near saturation


def coil_charge(coil: Any, side: int, volume: float, fluid: str) -> float:
    """Refrigerant in a coil [kg]; side: 0 where the refrigerant is the hot stream, 1 where the cold one."""
    inlet, outlet = coil.inl[side], coil.outl[side]
    state = saturated(fluid, outlet.p.val_SI)
    low, high = sorted((inlet.h.val_SI, outlet.h.val_SI))
    steps = coil._assign_steps()
    conductance = np.diff(steps) / coil._calc_lmtd_per_section(*coil._get_T_at_steps(steps), postprocess=False)
    areas, densities = [], []
    for start, end, share in zip(steps, steps[1:], conductance, strict=False):
        ends = low + start * (high - low), low + end * (high - low)
        middle = 0.5 * (ends[0] + ends[1])
        phase = "l" if middle <= state["liquid"] else "g" if middle >= state["gas"] else "tp"
        areas.append(share * _resistance(coil, side, phase))
        densities.append(_density(fluid, state, phase, ends))
    return volume * float(np.average(densities, weights=areas))


def saturated(fluid: str, pressure: float) -> dict[str, float]:
    """Enthalpies [J/kg], densities [kg/m3] and temperature [K] of saturation at a pressure [Pa]."""
    grid, columns = _table(fluid)
    where = np.log(min(max(pressure, 1.2e5), 4.2e6))
    return {name: float(np.interp(where, grid, column)) for name, column in columns.items()}


def _density(fluid: str, state: dict[str, float], phase: str, ends: tuple[float, float]) -> float:
    middle = 0.5 * (ends[0] + ends[1])
    if phase == "l":
        columns = _table(fluid)[1]
        return float(np.interp(middle, columns["liquid"], columns["liquid_density"]))
    if phase == "g":
        return state["gas_density"] / (1.0 + (middle - state["gas"]) / GAS_HEAT / state["temperature"])
    span = state["gas"] - state["liquid"]
    start, end = (min(max((one - state["liquid"]) / span, 0.0), 1.0) for one in ends)
    quality = np.linspace(start, end, QUALITIES)
    slip = (state["gas_density"] / state["liquid_density"]) ** (2.0 / 3.0)
    void = quality / (quality + (1.0 - quality) * slip)
    return float(np.mean(void * state["gas_density"] + (1.0 - void) * state["liquid_density"]))


def _resistance(coil: Any, side: int, phase: str) -> float:
    """Of a unit of the hot side's area [m2 K/W]."""
    hot, cold = ("g", phase) if side else (phase, "g")
    of_hot = getattr(coil, f"alpha1_{hot}").val_SI
    of_cold = getattr(coil, f"alpha2_{cold}").val_SI * coil.area_ratio.val_SI
    return float(1.0 / of_hot + 1.0 / of_cold)


@cache
def _table(fluid: str) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    grid = np.linspace(np.log(1.2e5), np.log(4.2e6), 400)
    wanted = {
        "liquid": ("H", 0),
        "gas": ("H", 1),
        "liquid_density": ("D", 0),
        "gas_density": ("D", 1),
        "temperature": ("T", 1),
    }
    return grid, {
        name: np.array([PropsSI(what, "P", p, "Q", quality, fluid) for p in np.exp(grid)])
        for name, (what, quality) in wanted.items()
    }
