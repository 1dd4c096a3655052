"""How much of a flammable refrigerant a room takes before a leak that sinks from a height can burn."""

FACTOR, POWER = 2.5, 1.25


def most_charge(lower_limit: float, release_height: float, floor_area: float) -> float:
    """Most charge [kg] of an unventilated room without leak detection or circulation of the air.

    Parameters
    ----------
    lower_limit: lower flammability limit [kg/m3], above 0.
    release_height: of the place it can leak from, above the floor [m], 0.6 to 2.2.
    floor_area: [m2], 0 or more.

    Source: IEC 60335-2-40:2018 clause GG.2, as reprinted in manufacturers' manuals. Printed example: R-32 (0.307),
    0.6 m, 20 m2: 1.533 kg.
    """
    return FACTOR * float(lower_limit**POWER) * release_height * float(floor_area**0.5)
