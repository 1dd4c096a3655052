"""A fixed volume of dry gas under test: what temperature alone does to its pressure."""

from math import hypot

# How far nitrogen departs from the ideal law in a sealed volume, per kelvin and per pascal: fitted to the
# Helmholtz equation of Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361, 1 to 4.2 MPa and 285 to 310 K.
NITROGEN_DEPARTURE = 9e-11  # 1/(K Pa)


def expected_pressure(pressure: float, temperature: float, later_temperature: float) -> float:
    """Pressure of a sealed fixed volume at another temperature.

    Parameters
    ----------
    pressure : [Pa] absolute, above 0
    temperature : [K] of the gas at that pressure, above 0
    later_temperature : [K] of the gas later, above 0

    Returns
    -------
    [Pa] absolute

    References
    ----------
    Ideal-gas law at constant volume, p2 / T2 = p1 / T1; 450 psig at 75 °F is 441.3 psig at 65 °F.

    Examples
    --------
    >>> round((expected_pressure((450 + 14.696) * 6894.757, 297.039, 291.483)) / 6894.757 - 14.696, 1)
    441.3
    """
    return pressure * later_temperature / temperature


def expected_pressure_uncertainty(
    pressure: float,
    temperature: float,
    later_temperature: float,
    pressure_accuracy: float,
    temperature_accuracy: float,
) -> float:
    """Half-width (k = 2) of `expected_pressure` from those of gauge and thermometer.

    The two temperatures count as independent, which is on the safe side for one thermometer read twice. The
    departure of nitrogen from the ideal law is added as one more independent part.

    Parameters
    ----------
    pressure : [Pa] absolute, above 0
    temperature, later_temperature : [K], above 0
    pressure_accuracy : [Pa] half-width, 0 or more
    temperature_accuracy : [K] half-width, 0 or more

    Returns
    -------
    [Pa]

    References
    ----------
    JCGM 100:2008 (GUM), equation 10.

    Examples
    --------
    >>> round(expected_pressure_uncertainty(3.2e6, 297.0, 291.5, 0.0, 1.0) / 1000.0, 1)
    15.9
    """
    expected = expected_pressure(pressure, temperature, later_temperature)
    departure = NITROGEN_DEPARTURE * pressure**2 * (later_temperature - temperature)
    return hypot(
        pressure_accuracy * later_temperature / temperature,
        temperature_accuracy * pressure / temperature,
        temperature_accuracy * expected / temperature,
        departure,
    )
