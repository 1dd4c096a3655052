"""What a stream of air gives up at the cooling coil.

The trade's factors 4.5, 1.08 and 0.68 are these equations at standard air (dry, 21 C or 70 F, 101.325 kPa):
4.5 = 60 min/h x 0.075 lb/ft3, 1.08 = 4.5 x 0.24 Btu/(lb F), 0.68 = 4.5 x 1061 Btu/lb / 7000 gr/lb.
"""

from service.physics.moist_air import SPECIFIC_HEAT_DRY_AIR, SPECIFIC_HEAT_VAPOUR, MoistAir

STANDARD_AIR_TEMPERATURE = 294.261111  # K, 70 F (ASHRAE Fundamentals 2017, chapter 1: standard air)


def standard_air_density(pressure: float) -> float:
    """Density of dry air at 70 °F, which is the trade's standard air, at the site pressure.

    Parameters
    ----------
    pressure : [Pa] absolute, above 0

    Returns
    -------
    [kg/m3], 1.2 (0.075 lb/ft3) at sea level

    References
    ----------
    Ideal gas, ASHRAE Handbook Fundamentals 2017, chapter 1, equation 26 with no humidity.

    Examples
    --------
    >>> round(standard_air_density(101325.0), 3)
    1.2
    """
    return 1.0 / MoistAir(STANDARD_AIR_TEMPERATURE, 0.0, pressure).specific_volume


def air_mass_flow(airflow: float, pressure: float) -> float:
    """Mass flow of dry air of an airflow that is stated as standard air.

    Parameters
    ----------
    airflow : [m3/s], 0 or more
    pressure : [Pa] absolute, above 0

    Returns
    -------
    [kg/s]

    References
    ----------
    Definition of standard air; ASHRAE Handbook Fundamentals 2017, chapter 1.

    Examples
    --------
    >>> round(air_mass_flow(0.5663, 101325.0), 3)
    0.679
    """
    return airflow * standard_air_density(pressure)


def moist_specific_heat(humidity_ratio: float) -> float:
    """Specific heat of moist air.

    Parameters
    ----------
    humidity_ratio : [kg water per kg dry air], 0 or more

    Returns
    -------
    [J/(K kg dry air)]

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 30.

    Examples
    --------
    >>> round(moist_specific_heat(0.01), 1)
    1024.6
    """
    return SPECIFIC_HEAT_DRY_AIR + SPECIFIC_HEAT_VAPOUR * humidity_ratio
