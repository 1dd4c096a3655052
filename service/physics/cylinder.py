"""How much liquid refrigerant a cylinder takes."""

from math import ceil

WATER_DENSITY = 999.016  # kg/m3 at 60 F (15.56 C) and 1 atm, IAPWS-95: the temperature of a stamped water capacity


def liquid_limit(water_capacity: float, liquid_density: float, filling: float) -> float:
    """Most refrigerant that a cylinder may hold [kg].

    Parameters
    ----------
    water_capacity: stamped on the cylinder [kg of water], above 0.
    liquid_density: saturated liquid at the reference temperature [kg/m3], above 0.
    filling: part of the volume that may be liquid [1], 0 to 1.

    Source: filling x volume x density. Example: 26.2 lb of water, specific gravity 1.06, 0.8: 22.22 lb.
    """
    return filling * water_capacity / WATER_DENSITY * liquid_density


def cylinders_needed(charge: float, room_left: float, limit: float) -> int:
    """Cylinders for a charge: the one at hand as far as it has room, then empty ones of the same size.

    Parameters
    ----------
    charge: to be recovered [kg], 0 or more.
    room_left: in the cylinder at hand [kg]; none where it is 0 or less.
    limit: what an empty cylinder takes [kg], above 0.
    """
    room = max(room_left, 0.0)
    # A hair of rounding must not ask for another cylinder.
    more = ceil(max(charge - room, 0.0) / limit - 1e-9)
    return more + (1 if room > 0.0 and charge > 0.0 else 0)
