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
    """Saturation pressure of water over liquid.

    Parameters
    ----------
    temperature : [K], 240 to 330

    Returns
    -------
    [Pa]

    References
    ----------
    Buck (1981), New Equations for Computing Vapor Pressure, with the constants of 1996, equation for liquid.

    Examples
    --------
    >>> round(float(saturation_pressure(np.array(298.15))))
    3169
    """
    celsius = temperature - ZERO_CELSIUS
    return 611.21 * np.exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))


def saturation_ratio(temperature: Array, pressure: Array) -> Array:
    """Humidity ratio of saturated air.

    Parameters
    ----------
    temperature : [K], 240 to 330
    pressure : [Pa] absolute, above the saturation pressure

    Returns
    -------
    [kg water per kg dry air]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 20.

    Examples
    --------
    >>> round(float(saturation_ratio(np.array(298.15), np.array(101325.0))), 4)
    0.0201
    """
    vapour = saturation_pressure(temperature)
    return WATER_TO_AIR * vapour / (pressure - vapour)


def enthalpy(temperature: Array, ratio: Array) -> Array:
    """Enthalpy of moist air; zero for dry air at 0 °C.

    Parameters
    ----------
    temperature : [K]
    ratio : [kg water per kg dry air], 0 or more

    Returns
    -------
    [J per kg dry air]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 30.

    Examples
    --------
    >>> round(float(enthalpy(np.array(298.15), np.array(0.01))))
    50625
    """
    celsius = temperature - ZERO_CELSIUS
    return SPECIFIC_HEAT * celsius + ratio * (LATENT_AT_ZERO + VAPOUR_SPECIFIC_HEAT * celsius)


def saturation_enthalpy(temperature: Array, pressure: Array) -> Array:
    """Enthalpy of saturated air.

    Parameters
    ----------
    temperature : [K], 240 to 330
    pressure : [Pa] absolute, above the saturation pressure

    Returns
    -------
    [J per kg dry air]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 30.
    """
    return enthalpy(temperature, saturation_ratio(temperature, pressure))


def saturation_temperature(wanted: Array, pressure: Array) -> Array:
    """Temperature at which saturated air holds an enthalpy (Newton's rule from a warm start).

    Parameters
    ----------
    wanted : [J per kg dry air]
    pressure : [Pa] absolute

    Returns
    -------
    [K], 240 to 330

    References
    ----------
    `saturation_enthalpy`, inverted; ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 30.
    """
    temperature = np.full_like(wanted, ZERO_CELSIUS + 15.0)
    for _ in range(6):
        value = saturation_enthalpy(temperature, pressure)
        slope = (saturation_enthalpy(temperature + 0.05, pressure) - value) / 0.05
        temperature = np.clip(temperature + (wanted - value) / slope, 240.0, 330.0)
    return temperature


def humidity_ratio(dry_bulb: Array, wet_bulb: Array, pressure: Array) -> Array:
    """Humidity ratio from dry and wet bulb.

    Parameters
    ----------
    dry_bulb, wet_bulb : [K], wet bulb at 0 °C or above and at most the dry bulb
    pressure : [Pa] absolute

    Returns
    -------
    [kg water per kg dry air]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 33.

    Examples
    --------
    >>> round(float(humidity_ratio(np.array(299.817), np.array(292.594), np.array(101325.0))), 4)
    0.0112
    """
    wet, dry = wet_bulb - ZERO_CELSIUS, dry_bulb - ZERO_CELSIUS
    saturated = saturation_ratio(wet_bulb, pressure)
    ratio = ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    return np.asarray(ratio)


def wet_bulb(dry_bulb: Array, ratio: Array, pressure: Array) -> Array:
    """Wet bulb from dry bulb and humidity ratio (Newton's rule).

    Parameters
    ----------
    dry_bulb : [K]
    ratio : [kg water per kg dry air], 0 or more
    pressure : [Pa] absolute

    Returns
    -------
    [K], at most the dry bulb

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 33, inverted.
    """
    guess = np.minimum(saturation_temperature(enthalpy(dry_bulb, ratio), pressure), dry_bulb)
    for _ in range(4):
        value = humidity_ratio(dry_bulb, guess, pressure) - ratio
        slope = (humidity_ratio(dry_bulb, guess + 0.05, pressure) - ratio - value) / 0.05
        guess = np.minimum(guess - value / slope, dry_bulb)
    return np.asarray(guess)


def ratio_from_relative_humidity(dry_bulb: Array, relative_humidity: Array, pressure: Array) -> Array:
    """Humidity ratio from dry bulb and relative humidity.

    Parameters
    ----------
    dry_bulb : [K], 240 to 330
    relative_humidity : [1], 0 to 1
    pressure : [Pa] absolute, above the vapour pressure

    Returns
    -------
    [kg water per kg dry air]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 22.
    """
    vapour = relative_humidity * saturation_pressure(dry_bulb)
    return np.asarray(WATER_TO_AIR * vapour / (pressure - vapour))


def density(temperature: Array, pressure: Array) -> Array:
    """Density of nearly dry air.

    Parameters
    ----------
    temperature : [K], above 0
    pressure : [Pa] absolute

    Returns
    -------
    [kg/m3]

    References
    ----------
    Ideal gas.

    Examples
    --------
    >>> round(float(density(np.array(294.26), np.array(101325.0))), 2)
    1.2
    """
    return np.asarray(pressure / (GAS_CONSTANT_AIR * temperature))
