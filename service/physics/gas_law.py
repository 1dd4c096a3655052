"""A fixed volume of dry gas under test: what temperature alone does to its pressure."""

from math import hypot

# How far nitrogen departs from the ideal law in a sealed volume, per kelvin and per pascal: fitted to the
# Helmholtz equation of Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361, 1 to 4.2 MPa and 285 to 310 K.
NITROGEN_DEPARTURE = 9e-11  # 1/(K Pa)


def expected_pressure(pressure: float, temperature: float, later_temperature: float) -> float:
    """Pressure of a sealed fixed volume at another temperature.

    Parameters
    ----------
    pressure: absolute [Pa], above 0.
    temperature: of the gas at that pressure [K], above 0.
    later_temperature: of the gas later [K], above 0.

    Returns
    -------
    Absolute pressure [Pa].

    Source: ideal-gas law at constant volume, p2/T2 = p1/T1. Example: 450 psig at 75 F, later 65 F: 441.3 psig.
    """
    return pressure * later_temperature / temperature


def expected_pressure_uncertainty(
    pressure: float,
    temperature: float,
    later_temperature: float,
    pressure_accuracy: float,
    temperature_accuracy: float,
) -> float:
    """Half-width (k = 2) of `expected_pressure` [Pa] from those of gauge [Pa] and thermometer [K].

    The two temperatures count as independent, which is on the safe side for one thermometer read twice. The
    departure of nitrogen from the ideal law is added as one more independent part.
    Source: JCGM 100:2008 (GUM), equation 10.
    """
    expected = expected_pressure(pressure, temperature, later_temperature)
    departure = NITROGEN_DEPARTURE * pressure**2 * (later_temperature - temperature)
    return hypot(
        pressure_accuracy * later_temperature / temperature,
        temperature_accuracy * pressure / temperature,
        temperature_accuracy * expected / temperature,
        departure,
    )
