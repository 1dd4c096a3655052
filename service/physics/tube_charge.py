"""How much refrigerant a run of line set holds."""

from math import hypot, pi


def bore_area(outside_diameter: float, wall: float) -> float:
    """Cross-section of a tube's bore [m2].

    Parameters
    ----------
    outside_diameter: [m], above twice the wall.
    wall: wall thickness [m], above 0.

    Raises
    ------
    ValueError: the wall leaves no bore.

    Source: geometry; ASTM B280 tabulates the bore, e.g. 3/8 in by 0.032 in gives 0.076 in2.
    """
    inside = outside_diameter - 2.0 * wall
    if inside <= 0.0:
        raise ValueError("the wall leaves no bore")
    return pi / 4.0 * inside**2


def charge_per_length(
    liquid_bore: float, liquid_density: float, suction_bore: float, vapour_density: float
) -> float:
    """Refrigerant per length of line set [kg/m], liquid line full of liquid and suction line of vapour.

    Parameters: bores [m2], densities [kg/m3], none below 0.

    Source: mass = volume x density.
    """
    return liquid_bore * liquid_density + suction_bore * vapour_density


def product_uncertainty(value: float, *relative: float) -> float:
    """Half-width (k = 2) of a product from the relative half-widths of its factors.

    Source: JCGM 100:2008 (GUM), equation 12.
    """
    return abs(value) * hypot(*relative)
