"""Moist air for whole arrays of samples: enthalpy, saturation and wet bulb at any barometric pressure."""

import numpy as np

from service.physics.arrays import Array

ZERO_CELSIUS = 273.15
SPECIFIC_HEAT = 1006.0
VAPOUR_SPECIFIC_HEAT = 1860.0
LATENT_AT_ZERO = 2_501_000.0
WATER_TO_AIR = 0.621945
GAS_CONSTANT_AIR = 287.055


def saturation_pressure(temperature: Array) -> Array:
    """Saturation pressure of water [Pa] over liquid at a temperature [K]. Source: Buck (1981), eq. for liquid."""
    celsius = temperature - ZERO_CELSIUS
    return 611.21 * np.exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))


def saturation_ratio(temperature: Array, pressure: Array) -> Array:
    """Humidity ratio [kg/kg] of saturated air at a temperature [K] and barometric pressure [Pa]."""
    vapour = saturation_pressure(temperature)
    return WATER_TO_AIR * vapour / (pressure - vapour)


def enthalpy(temperature: Array, ratio: Array) -> Array:
    """Enthalpy [J/kg dry air] at a temperature [K] and humidity ratio [kg/kg]; zero at 0 degC, dry."""
    celsius = temperature - ZERO_CELSIUS
    return SPECIFIC_HEAT * celsius + ratio * (LATENT_AT_ZERO + VAPOUR_SPECIFIC_HEAT * celsius)


def saturation_enthalpy(temperature: Array, pressure: Array) -> Array:
    """Enthalpy [J/kg dry air] of saturated air at a temperature [K]."""
    return enthalpy(temperature, saturation_ratio(temperature, pressure))


def saturation_temperature(wanted: Array, pressure: Array) -> Array:
    """Temperature [K] at which saturated air holds an enthalpy [J/kg dry air] (Newton from a warm start)."""
    temperature = np.full_like(wanted, ZERO_CELSIUS + 15.0)
    for _ in range(6):
        value = saturation_enthalpy(temperature, pressure)
        slope = (saturation_enthalpy(temperature + 0.05, pressure) - value) / 0.05
        temperature = np.clip(temperature + (wanted - value) / slope, 240.0, 330.0)
    return temperature


def humidity_ratio(dry_bulb: Array, wet_bulb: Array, pressure: Array) -> Array:
    """Humidity ratio [kg/kg] from dry and wet bulb [K]. Source: ASHRAE Fundamentals 2017, ch. 1, eq. 33."""
    wet, dry = wet_bulb - ZERO_CELSIUS, dry_bulb - ZERO_CELSIUS
    saturated = saturation_ratio(wet_bulb, pressure)
    ratio = ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    return np.asarray(ratio)


def wet_bulb(dry_bulb: Array, ratio: Array, pressure: Array) -> Array:
    """Wet bulb [K] from dry bulb [K] and humidity ratio [kg/kg] (Newton on the wet-bulb equation)."""
    guess = np.minimum(saturation_temperature(enthalpy(dry_bulb, ratio), pressure), dry_bulb)
    for _ in range(4):
        value = humidity_ratio(dry_bulb, guess, pressure) - ratio
        slope = (humidity_ratio(dry_bulb, guess + 0.05, pressure) - ratio - value) / 0.05
        guess = np.minimum(guess - value / slope, dry_bulb)
    return np.asarray(guess)


def ratio_from_relative_humidity(dry_bulb: Array, relative_humidity: Array, pressure: Array) -> Array:
    """Humidity ratio [kg/kg] from dry bulb [K] and relative humidity [1]."""
    vapour = relative_humidity * saturation_pressure(dry_bulb)
    return np.asarray(WATER_TO_AIR * vapour / (pressure - vapour))


def density(temperature: Array, pressure: Array) -> Array:
    """Density [kg/m3] of nearly dry air at a temperature [K] and barometric pressure [Pa]."""
    return np.asarray(pressure / (GAS_CONSTANT_AIR * temperature))
