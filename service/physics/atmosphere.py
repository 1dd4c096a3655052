"""Air pressure against elevation."""


def pressure_at_elevation(elevation: float) -> float:
    """Standard atmospheric pressure at an elevation.

    elevation: [m], -500 to 5000 here (the relation holds from -5000 to 11000).
    Returns: [Pa].
    Source: ASHRAE Handbook Fundamentals 2017, chapter 1, equation 3 (US Standard Atmosphere).
    Example: pressure_at_elevation(304.8) is about 97.7 kPa (table 1: 14.175 psia at 1000 ft).
    """
    result: float = 101325.0 * (1.0 - 2.25577e-5 * elevation) ** 5.2559
    return result
