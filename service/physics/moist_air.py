"""Moist air as a mixture of perfect gases.

Source: ASHRAE Handbook Fundamentals 2017 (SI), chapter 1 Psychrometrics; equation numbers below are its.
Enthalpy counts from dry air at 0 C and liquid water at 0 C.
"""

from __future__ import annotations

from math import exp, log

from service.results.out_of_range import OutOfRange
from service.results.record import Record
from service.results.units import ZERO_CELSIUS

GAS_CONSTANT_DRY_AIR = 287.042  # J/(kg K), equation 1
MOLAR_MASS_RATIO = 0.621945  # water over dry air, equation 20
SPECIFIC_HEAT_DRY_AIR = 1006.0  # J/(kg K), equation 30
SPECIFIC_HEAT_VAPOUR = 1860.0  # J/(kg K), equation 30
HEAT_OF_VAPORISATION = 2501000.0  # J/kg at 0 C, equation 30
TRIPLE_POINT = 273.16  # K; below it the saturation is over ice
HALVINGS = 48  # leave 1e-12 K
LOWEST, HIGHEST = 173.15, 473.15  # K, range of equations 5 and 6


class MoistAir(Record):
    """A state: dry_bulb [K], humidity_ratio [kg water per kg dry air], pressure [Pa absolute]."""

    dry_bulb: float
    humidity_ratio: float
    pressure: float

    @property
    def enthalpy(self) -> float:
        """Specific enthalpy.

        Returns
        -------
        [J per kg dry air]

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, equation 30.
        """
        celsius = self.dry_bulb - ZERO_CELSIUS
        vapour = HEAT_OF_VAPORISATION + SPECIFIC_HEAT_VAPOUR * celsius
        return SPECIFIC_HEAT_DRY_AIR * celsius + self.humidity_ratio * vapour

    @property
    def specific_volume(self) -> float:
        """Volume of the air around one kilogram of dry air.

        Returns
        -------
        [m3 per kg dry air]

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, equation 26.
        """
        wet = 1.0 + self.humidity_ratio / MOLAR_MASS_RATIO
        return GAS_CONSTANT_DRY_AIR * self.dry_bulb * wet / self.pressure

    @property
    def vapour_pressure(self) -> float:
        """Partial pressure of the water vapour.

        Returns
        -------
        [Pa]

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, from equation 20.
        """
        return self.pressure * self.humidity_ratio / (MOLAR_MASS_RATIO + self.humidity_ratio)

    @property
    def relative_humidity(self) -> float:
        """Relative humidity.

        Returns
        -------
        [1], 0 to 1

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, equation 22.
        """
        return self.vapour_pressure / saturation_vapour_pressure(self.dry_bulb)


def saturation_vapour_pressure(temperature: float) -> float:
    """Saturation pressure of water, over ice below the triple point.

    Parameters
    ----------
    temperature : [K], 173.15 to 473.15

    Returns
    -------
    [Pa]

    Raises
    ------
    OutOfRange
        temperature outside that range

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6 (Hyland and Wexler 1983), table 3.

    Examples
    --------
    >>> round(saturation_vapour_pressure(298.15), 1)
    3169.2
    """
    if not LOWEST <= temperature <= HIGHEST:
        raise OutOfRange("temperature", temperature, LOWEST, HIGHEST)
    return exp(_over_ice(temperature) if temperature < TRIPLE_POINT else _over_water(temperature))


def _over_ice(t: float) -> float:
    return (
        -5.6745359e3 / t
        + 6.3925247
        - 9.677843e-3 * t
        + 6.2215701e-7 * t**2
        + 2.0747825e-9 * t**3
        - 9.484024e-13 * t**4
        + 4.1635019 * log(t)
    )


def _over_water(t: float) -> float:
    return (
        -5.8002206e3 / t
        + 1.3914993
        - 4.8640239e-2 * t
        + 4.1764768e-5 * t**2
        - 1.4452093e-8 * t**3
        + 6.5459673 * log(t)
    )


def from_relative_humidity(dry_bulb: float, relative_humidity: float, pressure: float) -> MoistAir:
    """Air by dry bulb and relative humidity.

    Parameters
    ----------
    dry_bulb : [K], 173.15 to 473.15
    relative_humidity : [1], 0 to 1
    pressure : [Pa] absolute, above 0

    Returns
    -------
    [K], [kg water per kg dry air] and [Pa] of the state

    Raises
    ------
    OutOfRange
        water would boil at this temperature and pressure

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 22.

    Examples
    --------
    >>> round(from_relative_humidity(298.15, 0.5, 101325.0).humidity_ratio, 5)
    0.00988
    """
    vapour = relative_humidity * saturation_vapour_pressure(dry_bulb)
    return MoistAir(dry_bulb, _humidity_ratio(vapour, pressure), pressure)


def from_wet_bulb(dry_bulb: float, wet_bulb: float, pressure: float) -> MoistAir:
    """Air by dry bulb and thermodynamic wet bulb.

    A humidity ratio below zero (a wet bulb colder than bone-dry air can make) is refused.

    Parameters
    ----------
    dry_bulb : [K], 173.15 to 473.15
    wet_bulb : [K], at most the dry bulb
    pressure : [Pa] absolute, above 0

    Returns
    -------
    [K], [kg water per kg dry air] and [Pa] of the state

    Raises
    ------
    OutOfRange
        the wet bulb is above the dry bulb or colder than dry air can make

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35.

    Examples
    --------
    >>> round(from_wet_bulb(299.817, 292.594, 101325.0).humidity_ratio, 4)
    0.0112
    """
    if wet_bulb > dry_bulb:
        raise OutOfRange("wet bulb", wet_bulb, 0.0, dry_bulb)
    ratio = _ratio_at_wet_bulb(dry_bulb, wet_bulb, pressure)
    if ratio < 0.0:
        raise OutOfRange("wet bulb", wet_bulb, _driest_wet_bulb(dry_bulb, pressure), dry_bulb)
    return MoistAir(dry_bulb, ratio, pressure)


def _ratio_at_wet_bulb(dry_bulb: float, wet_bulb: float, pressure: float) -> float:
    saturated = _humidity_ratio(saturation_vapour_pressure(wet_bulb), pressure)
    dry, wet = dry_bulb - ZERO_CELSIUS, wet_bulb - ZERO_CELSIUS
    if wet >= 0.0:
        numerator = (2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)
        return numerator / (2501.0 + 1.86 * dry - 4.186 * wet)
    numerator = (2830.0 - 0.24 * wet) * saturated - 1.006 * (dry - wet)
    return numerator / (2830.0 + 1.86 * dry - 2.1 * wet)


def wet_bulb(air: MoistAir) -> float:
    """Thermodynamic wet bulb of a state, by halving to the last useful bit.

    Parameters
    ----------
    air : [K], [kg water per kg dry air] and [Pa] of the state

    Returns
    -------
    [K]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35.

    Examples
    --------
    >>> round(wet_bulb(from_wet_bulb(299.817, 292.594, 101325.0)), 3)
    292.594
    """
    return _wet_bulb_of(air.dry_bulb, air.humidity_ratio, air.pressure)


def _driest_wet_bulb(dry_bulb: float, pressure: float) -> float:
    return _wet_bulb_of(dry_bulb, 0.0, pressure)


def _wet_bulb_of(dry_bulb: float, humidity_ratio: float, pressure: float) -> float:
    low, high = LOWEST, dry_bulb
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        # Where water boils no air can be saturated: the wet bulb lies below.
        boils = saturation_vapour_pressure(middle) >= pressure
        if boils or _ratio_at_wet_bulb(dry_bulb, middle, pressure) >= humidity_ratio:
            high = middle
        else:
            low = middle
    return 0.5 * (low + high)


def _humidity_ratio(vapour_pressure: float, pressure: float) -> float:
    """Humidity ratio, equation 20. Raises: OutOfRange where the vapour would fill the whole pressure."""
    if vapour_pressure >= pressure:
        raise OutOfRange("vapour pressure", vapour_pressure, 0.0, pressure)
    return MOLAR_MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)
