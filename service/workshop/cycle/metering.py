"""Metering devices: a short-tube orifice and a thermostatic expansion valve, and what happens before them."""

import numpy as np

from service.physics.arrays import Array
from service.results.record import Record
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.short_tube import mass_flux
from service.workshop.cycle.unit import Design, Operation, Unit

SMALLEST_PRESSURE_STEP = 2.0e4
CAP_SHARPNESS = 8.0


class Inlet(Record):
    """Refrigerant before the device: pressure [Pa], liquid temperature [K], mean density [kg/m3], quality."""

    pressure: Array
    temperature: Array
    density: Array
    quality: Array


def inlet_state(fluid: RefrigerantFit, pressure: Array, enthalpy: Array) -> Inlet:
    """State of liquid (or flashing liquid) at a pressure [Pa] and enthalpy [J/kg]."""
    bubble, dew = fluid.bubble_temperature(pressure), fluid.dew_temperature(pressure)
    liquid = fluid.at_temperature("liquid_enthalpy", bubble)
    latent = fluid.at_temperature("vapour_enthalpy", dew) - liquid
    quality = np.maximum((enthalpy - liquid) / latent, 0.0)
    temperature = np.minimum(fluid.liquid_temperature(enthalpy), bubble)
    liquid_density = fluid.at_temperature("liquid_density", temperature)
    vapour_density = fluid.at_temperature("vapour_density", dew)
    density = 1.0 / (quality / vapour_density + (1.0 - quality) / liquid_density)
    return Inlet(pressure, temperature, np.asarray(density), np.asarray(quality))


def orifice_flow(fluid: RefrigerantFit, design: Design, inlet: Inlet, evaporator_pressure: Array) -> Array:
    """Mass flow [kg/s] through a unit area coefficient of a short tube.

    ``design.published_tube`` stands between two forms. At 1 it is a published correlation (see ``short_tube``). At
    0 the flow chokes at a throat pressure that is a sampled fraction of the saturation pressure of the entering
    liquid, calibrated in the design study to the target-superheat rule; it is not a prediction.
    """
    throat = np.maximum(design.throat_ratio * fluid.bubble_pressure(inlet.temperature), evaporator_pressure)
    step = np.maximum(inlet.pressure - throat, SMALLEST_PRESSURE_STEP)
    calibrated = np.sqrt(2.0 * inlet.density * step)
    published = mass_flux(fluid, inlet.pressure, inlet.temperature, inlet.quality, design.tube_length_ratio)
    share = design.published_tube
    return np.asarray(published**share * calibrated ** (1.0 - share))


def valve_flow(
    unit: Unit, operation: Operation, inlet: Inlet, evaporator_pressure: Array, superheat: Array
) -> Array:
    """Mass flow [kg/s] through a unit area coefficient of a valve: a sigmoid of superheat [K], softly capped."""
    design = unit.design
    excess = superheat - unit.half_open_superheat - operation.setpoint_shift
    opening = design.valve_reserve / (1.0 + np.exp(-np.clip(design.valve_gain * excess, -40.0, 40.0)))
    capped = (opening**-CAP_SHARPNESS + operation.opening_limit**-CAP_SHARPNESS) ** (-1.0 / CAP_SHARPNESS)
    step = np.maximum(inlet.pressure - evaporator_pressure, SMALLEST_PRESSURE_STEP)
    return np.asarray(capped * np.sqrt(2.0 * inlet.density * step))
