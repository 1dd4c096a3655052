"""The compressor rating polynomial and what is measured against it.

Source: AHRI Standard 540, Performance Rating of Positive Displacement Refrigerant Compressors: ten-coefficient
cubic in the suction and discharge dew temperatures (form from memory).
"""

from collections.abc import Sequence

SUPERHEAT_SHARE = (
    0.75  # Dabiri and Rice 1981, ASHRAE Transactions 87(2): share of the density change that reaches the flow
)


def rating(coefficients: Sequence[float], suction: float, discharge: float) -> float:
    """Value of the ten-coefficient polynomial.

    The terms stand in the order of the standard: 1, S, D, S2, SD, D2, S3, D S2, S D2, D3.

    Parameters
    ----------
    coefficients : [unit of the result], C1 to C10
    suction, discharge : [°F] or [°C] dew temperatures, in the unit of the coefficients

    Returns
    -------
    [W], [lb/h] or [kg/h], the unit of the coefficients

    References
    ----------
    AHRI Standard 540, the ten-coefficient equation (form from memory).

    Examples
    --------
    >>> rating((1.0, 0.0, 0.0, 0.0, 2.0, 0.0, 0.0, 0.0, 0.0, 0.0), 3.0, 4.0)
    25.0
    """
    s, d = suction, discharge
    terms = (1.0, s, d, s * s, s * d, d * d, s**3, d * s * s, s * d * d, d**3)
    return sum(coefficient * term for coefficient, term in zip(coefficients, terms, strict=True))


def density_corrected(mass_flow: float, rated_density: float, actual_density: float) -> float:
    """Mass flow at another suction superheat than the rating's.

    Parameters
    ----------
    mass_flow : [kg/s] by the rating, 0 or more
    rated_density, actual_density : [kg/m3] of the suction gas, above 0

    Returns
    -------
    [kg/s]

    References
    ----------
    Dabiri and Rice 1981, ASHRAE Transactions 87(2): m = (1 + 0.75 (rho / rho_rated - 1)) m_rated.

    Examples
    --------
    >>> round(density_corrected(0.06, 40.0, 38.0), 5)
    0.05775
    """
    return mass_flow * (1.0 + SUPERHEAT_SHARE * (actual_density / rated_density - 1.0))


def isentropic_efficiency(mass_flow: float, isentropic_rise: float, power: float) -> float:
    """Overall isentropic efficiency: the work of an ideal compression over the input power.

    Parameters
    ----------
    mass_flow : [kg/s], 0 or more
    isentropic_rise : [J/kg] of enthalpy, 0 or more
    power : [W], above 0

    Returns
    -------
    [1]

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(isentropic_efficiency(0.06, 35_000.0, 3000.0), 3)
    0.7
    """
    return mass_flow * isentropic_rise / power


def volumetric_efficiency(mass_flow: float, density: float, displacement_rate: float) -> float:
    """Mass flow over what the displacement would carry at suction density.

    Parameters
    ----------
    mass_flow : [kg/s], 0 or more
    density : [kg/m3] of the suction gas, above 0
    displacement_rate : [m3/s], above 0

    Returns
    -------
    [1]

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(volumetric_efficiency(0.06, 36.0, 0.00175), 3)
    0.952
    """
    return mass_flow / (density * displacement_rate)
