"""Components of TESPy in a circle, and the polynomials of a compressor. Needs TESPy; see ``public_unit``."""

from functools import cache
from typing import Any

import numpy as np
from CoolProp.CoolProp import PropsSI
from tespy.components import (
    CycleCloser,
    MovingBoundaryHeatExchanger,
    PolynomialCompressor,
    SectionedHeatExchanger,
    Sink,
    Source,
    Valve,
)
from tespy.components.displacementmachinery.polynomial_compressor import calc_EN12900, fit_EN12900_points
from tespy.connections import Connection, HAConnection
from tespy.networks import Network

from service.results.record import Record

AROUND = ("suction", "discharge", "coil_in", "coil_out", "liquid", "metered", "cold", "leaving")


class Parts(Record):
    """Components of a unit and its connections by name: ``AROUND``, warm_in, warm_out, return and supply."""

    network: Any
    compressor: Any
    outdoor: Any
    indoor: Any
    foreign: Any
    gauge: Any
    line: Any
    at: dict[str, Any]


def built() -> Parts:
    """A circle without figures. foreign and gauge take the foreign gas's share of the pressure away and give it
    back; line is the liquid line with its drier."""
    compressor, closer, meter = PolynomialCompressor("compressor"), CycleCloser("closer"), Valve("meter")
    outdoor, indoor = MovingBoundaryHeatExchanger("outdoor"), SectionedHeatExchanger("indoor")
    foreign, gauge, line = Valve("foreign"), Valve("gauge"), Valve("line")
    path: list[tuple[Any, int]] = [
        (closer, 1),
        (compressor, 1),
        (foreign, 1),
        (outdoor, 1),
        (gauge, 1),
        (line, 1),
        (meter, 1),
        (indoor, 2),
        (closer, 1),
    ]
    at = {
        name: Connection(one, f"out{side}", two, f"in{other}", label=name)
        for name, (one, side), (two, other) in zip(AROUND, path, path[1:], strict=False)
    }
    at["warm_in"] = Connection(Source("outside"), "out1", outdoor, "in2", label="warm_in")
    at["warm_out"] = Connection(outdoor, "out2", Sink("away"), "in1", label="warm_out")
    at["return"] = HAConnection(Source("return"), "out1", indoor, "in1", label="return_air")
    at["supply"] = HAConnection(indoor, "out1", Sink("room"), "in1", label="supply_air")
    network = Network(iterinfo=False)
    network.add_conns(*at.values())
    return Parts(network, compressor, outdoor, indoor, foreign, gauge, line, at)


def polynomials(fluid: str, design: dict[str, float], leak: float) -> tuple[list[float], list[float]]:
    """Ten coefficients each of isentropic and of volumetric efficiency over boiling and condensing temperature."""
    boiling, condensing, ratio = _ratios(fluid)
    # Within the working range of such a compressor; a cubic follows no further.
    inside = (ratio > 1.3) & (ratio < 6.5)
    boiling, condensing, ratio = boiling[inside], condensing[inside], ratio[inside]
    volume = (1.0 - design["clearance"] * (ratio ** (1.0 / 1.13) - 1.0)) * (1.0 - leak) * (1.0 - 0.25 * leak)
    efficiency = design["efficiency"] - design["efficiency_fall"] * (ratio - design["best_ratio"]) ** 2
    efficiency = np.maximum(efficiency, 0.3) * (1.0 - leak)
    first, second = (list(fit_EN12900_points(boiling, condensing, one)) for one in (efficiency, volume))
    return first, second


def efficiency_at(coefficients: list[float], boiling: float, condensing: float) -> float:
    """Value of a polynomial at temperatures [K]."""
    return float(calc_EN12900(coefficients, boiling - 273.15, condensing - 273.15))


@cache
def _ratios(fluid: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Boiling and condensing temperatures [degC] of a grid, and the ratios of pressure there."""
    boiling, condensing = (one.ravel() for one in np.meshgrid(np.linspace(-15, 22, 9), np.linspace(18, 66, 9)))
    low = np.array([PropsSI("P", "T", one + 273.15, "Q", 1, fluid) for one in boiling])
    high = np.array([PropsSI("P", "T", one + 273.15, "Q", 0, fluid) for one in condensing])
    return boiling, condensing, high / low
