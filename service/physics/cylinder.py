"""How much liquid refrigerant a cylinder takes."""

from math import ceil

WATER_DENSITY = 999.016  # kg/m3 at 60 F (15.56 C) and 1 atm, IAPWS-95: the temperature of a stamped water capacity


def liquid_limit(water_capacity: float, liquid_density: float, filling: float) -> float:
    """Most refrigerant that a cylinder may hold.

    Parameters
    ----------
    water_capacity : [kg] of water, stamped on the cylinder, above 0
    liquid_density : [kg/m3] of saturated liquid at the reference temperature, above 0
    filling : [1] part of the volume that may be liquid, 0 to 1

    Returns
    -------
    [kg]

    References
    ----------
    Filling x volume x density; water at 60 °F by IAPWS-95.

    Examples
    --------
    >>> round(liquid_limit(26.2, 1060.0, 0.8), 1)
    22.2
    """
    return filling * water_capacity / WATER_DENSITY * liquid_density


def cylinders_needed(charge: float, room_left: float, limit: float) -> int:
    """Cylinders for a charge: the one at hand as far as it has room, then empty ones of the same size.

    Parameters
    ----------
    charge : [kg] to be recovered, 0 or more
    room_left : [kg] in the cylinder at hand; none where it is 0 or less
    limit : [kg] that an empty cylinder takes, above 0

    Returns
    -------
    [1], a count

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> cylinders_needed(12.0, 4.0, 10.0)
    2
    """
    room = max(room_left, 0.0)
    # A hair of rounding must not ask for another cylinder.
    more = ceil(max(charge - room, 0.0) / limit - 1e-9)
    return more + (1 if room > 0.0 and charge > 0.0 else 0)
