"""How much refrigerant a run of line set holds."""

from math import hypot, pi


def bore_area(outside_diameter: float, wall: float) -> float:
    """Cross-section of a tube's bore.

    Parameters
    ----------
    outside_diameter : [m], above twice the wall
    wall : [m] wall thickness, above 0

    Returns
    -------
    [m2]

    Raises
    ------
    ValueError
        the wall leaves no bore

    References
    ----------
    Geometry; ASTM B280 tabulates the bore, 0.076 in2 for 3/8 in by 0.032 in.

    Examples
    --------
    >>> round(bore_area(0.009525, 0.000813) / 0.0254**2, 3)
    0.076
    """
    inside = outside_diameter - 2.0 * wall
    if inside <= 0.0:
        raise ValueError("the wall leaves no bore")
    return pi / 4.0 * inside**2


def charge_per_length(
    liquid_bore: float, liquid_density: float, suction_bore: float, vapour_density: float
) -> float:
    """Refrigerant per length of line set, liquid line full of liquid and suction line of vapour.

    Parameters
    ----------
    liquid_bore, suction_bore : [m2], 0 or more
    liquid_density, vapour_density : [kg/m3], 0 or more

    Returns
    -------
    [kg/m]

    References
    ----------
    Mass = volume x density.

    Examples
    --------
    >>> round(charge_per_length(4.9e-5, 1050.0, 2.5e-4, 35.0), 4)
    0.0602
    """
    return liquid_bore * liquid_density + suction_bore * vapour_density


def product_uncertainty(value: float, *relative: float) -> float:
    """Half-width (k = 2) of a product from the relative half-widths of its factors.

    Parameters
    ----------
    value : [unit of the product]
    relative : [1] half-widths, 0 or more

    Returns
    -------
    [unit of the product]

    References
    ----------
    JCGM 100:2008 (GUM), equation 12.

    Examples
    --------
    >>> round(product_uncertainty(10.0, 0.03, 0.04), 3)
    0.5
    """
    return abs(value) * hypot(*relative)
