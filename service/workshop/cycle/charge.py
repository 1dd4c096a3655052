"""How much refrigerant the unit holds: zone volumes times densities, with slip in the two-phase zones."""

import numpy as np

from service.physics.arrays import Array
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.unit import Design

# Bore areas per nominal ton [m2] and shell gas volume per ton [m3]; engineering judgement.
LIQUID_LINE_AREA = 16.7e-6
SUCTION_LINE_AREA = 95.0e-6
SHELL_VOLUME = 1.0e-3
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(6)


def two_phase_density(
    liquid: Array, vapour: Array, low_quality: Array, high_quality: Array, slip_exponent: Array
) -> Array:
    """Mean density [kg/m3] between two qualities under even heat flux.

    Parameters: liquid, vapour densities [kg/m3]; slip_exponent: 2/3 for Zivi (1964), 1 for homogeneous flow.
    """
    ratio = (vapour / liquid) ** slip_exponent
    mean = np.zeros_like(liquid)
    for point, weight in zip(_POINTS, _WEIGHTS, strict=True):
        quality = low_quality + (high_quality - low_quality) * 0.5 * (1.0 + point)
        quality = np.clip(quality, 1e-6, 1.0)
        void = 1.0 / (1.0 + (1.0 - quality) / quality * ratio)
        mean += 0.5 * weight * (void * vapour + (1.0 - void) * liquid)
    return mean


def evaporator_charge(
    fluid: RefrigerantFit,
    design: Design,
    dew: Array,
    inlet_quality: Array,
    outlet_quality: Array,
    superheated: Array,
) -> Array:
    """Refrigerant [kg] in the indoor coil; superheated: share of the coil holding dry gas."""
    bubble = fluid.bubble_temperature(fluid.dew_pressure(dew))
    liquid = fluid.at_temperature("liquid_density", bubble)
    vapour = fluid.at_temperature("vapour_density", dew)
    wet = two_phase_density(liquid, vapour, inlet_quality, outlet_quality, design.slip_exponent)
    return np.asarray(design.evaporator_volume * (superheated * vapour + (1.0 - superheated) * wet))


def condenser_charge(
    fluid: RefrigerantFit,
    design: Design,
    bubble: Array,
    outlet_quality: Array,
    gas_share: Array,
    liquid_share: Array,
) -> Array:
    """Refrigerant [kg] in the outdoor coil by the shares of its gas and liquid zones."""
    dew = fluid.dew_temperature(fluid.bubble_pressure(bubble))
    liquid = fluid.at_temperature("liquid_density", bubble)
    vapour = fluid.at_temperature("vapour_density", dew)
    wet = two_phase_density(liquid, vapour, outlet_quality, np.ones_like(liquid), design.slip_exponent)
    share = np.maximum(1.0 - gas_share - liquid_share, 0.0)
    held = gas_share * 0.85 * vapour + liquid_share * liquid + share * wet
    return np.asarray(design.condenser_volume * held)


def line_charge(design: Design, liquid_density: Array, suction_density: Array) -> Array:
    """Refrigerant [kg] in the liquid line, the suction line and the compressor shell."""
    liquid = LIQUID_LINE_AREA * design.line_length * liquid_density
    gas = (SUCTION_LINE_AREA * design.line_length + SHELL_VOLUME) * suction_density
    return np.asarray(liquid + gas)
