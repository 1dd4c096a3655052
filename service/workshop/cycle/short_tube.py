"""Choked flow through a short-tube orifice by a published correlation of laboratory measurements.

Source: Payne, V. and O'Neal, D. L. (2004), A mass flow rate correlation for refrigerants and refrigerant mixtures
flowing through short tubes, HVAC&R Research 10(1), 73-87. The paper was not at hand: its coefficients were read in
a public heat pump simulation that cites it (Fortran module ShortTubeMod, routine ShortTubePayne). The correlation
holds no evaporating pressure: tests find the flow choked wherever the coil of an air conditioner runs.
"""

import numpy as np

from service.physics.arrays import Array
from service.workshop.cycle.fluid import RefrigerantFit

# Of the flow through a tube with liquid at its inlet.
_LIQUID = (0.38811, 11.427, -14.194, 1.0703, -0.091928, 21.425, -581.95)
# Of the factor on it where the liquid flashes before the tube.
_FLASHING = (1.1831, -1.4680, -0.15285, -14.639, 9.8401, -0.019798, -1.5348, -2.0533, -17.195)

# Dimensionless mass flux and beyond: measured tubes give about 0.3 to 0.6.
_SENSIBLE = (0.02, 2.0)


def mass_flux(
    fluid: RefrigerantFit, pressure: Array, temperature: Array, quality: Array, length_ratio: Array
) -> Array:
    """Mass flow per area [kg/(s m2)] of a choked short tube.

    Parameters: pressure [Pa] and temperature [K] before the tube; quality [0..0.3] before the tube, 0 for liquid;
    length_ratio: length over bore [5..20].
    """
    saturated = fluid.bubble_temperature(pressure)
    liquid = fluid.at_temperature("liquid_density", saturated)
    thin = fluid.at_temperature("vapour_density", fluid.dew_temperature(pressure)) / liquid
    over = (pressure - np.minimum(fluid.bubble_pressure(temperature), pressure)) / fluid.critical_pressure
    below = np.maximum(saturated - temperature, 0.0) / fluid.critical_temperature
    a = _LIQUID
    top = a[0] + a[1] * over + a[2] * below + a[3] * thin + a[4] * np.log(length_ratio)
    group = top / (1.0 + a[5] * over + a[6] * below**2)
    reduced = pressure / fluid.critical_pressure
    # The published factor is about 1.01 where flashing starts; divided by that value the flow has no step there.
    liquid_only = _flashing(thin, np.zeros_like(quality), reduced, length_ratio)
    flashing = _flashing(thin, quality, reduced, length_ratio) / liquid_only
    # A solver's trial states may leave the measured range, where the quotient turns over; the flow never does.
    factor = np.clip(group * flashing, *_SENSIBLE)
    return np.asarray(factor * np.sqrt(liquid * fluid.critical_pressure))


def _flashing(thin: Array, quality: Array, reduced: Array, length_ratio: Array) -> Array:
    b = _FLASHING
    density = 1.0 / (1.0 - quality + quality / thin)
    wet = quality / (1.0 - quality) / np.sqrt(thin)
    # A trial state above the critical pressure has no flow: it stays without a number, and the solver steps back.
    with np.errstate(invalid="ignore"):
        left = np.log(1.0 - reduced) ** 2
    top = b[0] * density + b[1] * density**2 + b[2] * np.log(density) ** 2 + (b[3] + b[4]) * left
    top = top + b[5] * np.log(length_ratio) ** 2
    return np.asarray(top / (1.0 + b[6] * density + b[7] * wet + b[8] * reduced**3))
