"""How much of a flammable refrigerant a room takes before a leak that sinks from a height can burn."""

FACTOR, POWER = 2.5, 1.25


def most_charge(lower_limit: float, release_height: float, floor_area: float) -> float:
    """Most charge of an unventilated room without leak detection or circulation of the air.

    Parameters
    ----------
    lower_limit : [kg/m3] lower flammability limit, above 0
    release_height : [m] above the floor of the place it can leak from, 0.6 to 2.2
    floor_area : [m2], 0 or more

    Returns
    -------
    [kg]

    References
    ----------
    IEC 60335-2-40:2018 clause GG.2, as reprinted in manufacturers' manuals, with the printed value of the example.

    Examples
    --------
    >>> round(most_charge(0.307, 0.6, 20.0), 3)
    1.533
    """
    return FACTOR * float(lower_limit**POWER) * release_height * float(floor_area**0.5)
