"""What a stream of air gives up at the cooling coil.

The trade's factors 4.5, 1.08 and 0.68 are these equations at standard air (dry, 21 C or 70 F, 101.325 kPa):
4.5 = 60 min/h x 0.075 lb/ft3, 1.08 = 4.5 x 0.24 Btu/(lb F), 0.68 = 4.5 x 1061 Btu/lb / 7000 gr/lb.
"""

from service.physics.moist_air import SPECIFIC_HEAT_DRY_AIR, SPECIFIC_HEAT_VAPOUR, MoistAir

STANDARD_AIR_TEMPERATURE = 294.261111  # K, 70 F (ASHRAE Fundamentals 2017, chapter 1: standard air)


def standard_air_density(pressure: float) -> float:
    """Density of dry air at 70 F [kg/m3] at the site pressure [Pa]; 1.2 (0.075 lb/ft3) at sea level.

    Source: ideal gas, ASHRAE Fundamentals 2017, chapter 1, equation 26 with no humidity.
    """
    return 1.0 / MoistAir(STANDARD_AIR_TEMPERATURE, 0.0, pressure).specific_volume


def air_mass_flow(airflow: float, pressure: float) -> float:
    """Mass flow of dry air [kg/s] of an airflow [m3/s] by the trade's standard air at site pressure [Pa]."""
    return airflow * standard_air_density(pressure)


def moist_specific_heat(humidity_ratio: float) -> float:
    """Specific heat of moist air [J/(K kg dry air)]; ASHRAE Fundamentals 2017, chapter 1, equation 30."""
    return SPECIFIC_HEAT_DRY_AIR + SPECIFIC_HEAT_VAPOUR * humidity_ratio
