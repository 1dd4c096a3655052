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

    coefficients: C1..C10; suction, discharge: dew temperatures in the unit of the coefficients (F or C).
    Returns: in the unit of the coefficients (W, lb/h or kg/h). Order of terms as in AHRI 540:
    1, S, D, S2, SD, D2, S3, D S2, S D2, D3.
    """
    s, d = suction, discharge
    terms = (1.0, s, d, s * s, s * d, d * d, s**3, d * s * s, s * d * d, d**3)
    return sum(coefficient * term for coefficient, term in zip(coefficients, terms, strict=True))


def density_corrected(mass_flow: float, rated_density: float, actual_density: float) -> float:
    """Mass flow at another suction superheat than the rating's.

    mass_flow: by the rating; rated_density, actual_density: suction gas [same unit].
    Source: Dabiri and Rice 1981: m = (1 + 0.75 (rho/rho_rated - 1)) m_rated.
    """
    return mass_flow * (1.0 + SUPERHEAT_SHARE * (actual_density / rated_density - 1.0))


def isentropic_efficiency(mass_flow: float, isentropic_rise: float, power: float) -> float:
    """Overall isentropic efficiency: mass_flow [kg/s] x isentropic enthalpy rise [J/kg] over input power [W]."""
    return mass_flow * isentropic_rise / power


def volumetric_efficiency(mass_flow: float, density: float, displacement_rate: float) -> float:
    """Mass flow [kg/s] over suction density [kg/m3] x displacement per time [m3/s]."""
    return mass_flow / (density * displacement_rate)
