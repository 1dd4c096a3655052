"""The compressor: volumetric flow, work with a parabola of efficiency, and leaking valves."""

import numpy as np

from service.physics.arrays import Array
from service.results.record import Record
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.unit import Design

LOWEST_EFFICIENCY = 0.3
STEEPER_BELOW_PEAK = 3.0


class Compression(Record):
    """Net mass flow [kg/s], power drawn [W], discharge enthalpy [J/kg] and heat given to the gas [W]."""

    mass_flow: Array
    power: Array
    discharge_enthalpy: Array
    heat: Array


def compress(
    fluid: RefrigerantFit,
    design: Design,
    displacement: Array,
    leakage: Array,
    suction_pressure: Array,
    suction_enthalpy: Array,
    discharge_pressure: Array,
) -> Compression:
    """Compress gas from the suction to the discharge pressure.

    Parameters: displacement [m3/s]; leakage: share of the displaced flow that leaks back [0..0.6]; pressures [Pa];
    suction_enthalpy [J/kg]. Leaked gas re-enters the suction after partial cooling, and power is paid on the
    displaced flow. The forms are engineering judgement, not a compressor map.
    """
    ratio = discharge_pressure / suction_pressure
    dew_in, dew_out = fluid.dew_temperature(suction_pressure), fluid.dew_temperature(discharge_pressure)
    saturated = fluid.at_temperature("vapour_enthalpy", dew_in)
    clean = _specific_work(fluid, design, ratio, dew_in, dew_out, suction_enthalpy, saturated)
    kept = 1.0 - design.shell_loss
    backflow = design.remix_share * leakage / (1.0 - leakage)
    inlet = suction_enthalpy + backflow * clean * kept
    work = _specific_work(fluid, design, ratio, dew_in, dew_out, inlet, saturated)
    volumetric = design.volumetric_intercept - design.volumetric_slope * (ratio - 1.0)
    displaced = volumetric * displacement * fluid.vapour_density(dew_in, inlet - saturated)
    net = displaced * (1.0 - leakage)
    discharge = inlet + work * kept
    # The gas in the shell gains everything but the shell loss; what leaks back stays inside the balance.
    return Compression(net, displaced * work, discharge, net * (discharge - suction_enthalpy))


def _specific_work(
    fluid: RefrigerantFit,
    design: Design,
    ratio: Array,
    dew_in: Array,
    dew_out: Array,
    inlet: Array,
    saturated: Array,
) -> Array:
    entropy = fluid.vapour_entropy(dew_in, inlet - saturated)
    ideal_end = fluid.at_temperature("vapour_enthalpy", dew_out) + fluid.enthalpy_above_dew(dew_out, entropy)
    offset = ratio - design.efficiency_peak_ratio
    steepness = np.where(offset < 0.0, STEEPER_BELOW_PEAK, 1.0) * design.efficiency_curvature
    efficiency = np.maximum(design.efficiency_peak - steepness * offset**2, LOWEST_EFFICIENCY)
    return np.asarray((ideal_end - inlet) / efficiency)
