"""Air pressure against elevation."""


def pressure_at_elevation(elevation: float) -> float:
    """Standard atmospheric pressure at an elevation.

    Parameters
    ----------
    elevation : [m], -500 to 5000 here (the relation holds from -5000 to 11000)

    Returns
    -------
    [Pa] absolute

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 3 (US Standard Atmosphere); table 1 has 14.175 psia at
    1000 ft.

    Examples
    --------
    >>> round(pressure_at_elevation(304.8) / 6894.757, 3)
    14.173
    """
    result: float = 101325.0 * (1.0 - 2.25577e-5 * elevation) ** 5.2559
    return result
