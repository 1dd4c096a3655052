"""Conductors, contacts and their protection: drop, heat, circuit ampacity, overcurrent device."""

from collections.abc import Sequence

LARGEST_MOTOR_SHARE = 1.25  # NEC 440.33
DISCONNECT_SHARE = 1.15  # NEC 440.12(A)
OVERLOAD_RELAY_SHARE = 1.40  # NEC 440.52(A)(1)
KILOFEET = 304.8  # m


def loop_drop(length: float, ohms_per_kilofoot: float, amps: float) -> float:
    """Voltage lost along a two-wire circuit.

    Parameters
    ----------
    length : [m] one way, 0 or more
    ohms_per_kilofoot : [ohm/1000 ft] of one conductor, 0 or more
    amps : [A], 0 or more

    Returns
    -------
    [V]

    References
    ----------
    Ohm's law with NEC chapter 9 table 8.

    Examples
    --------
    >>> round(loop_drop(30.48, 1.21, 24.0), 2)
    5.81
    """
    return 2.0 * length / KILOFEET * ohms_per_kilofoot * amps


def contact_resistance(drop: float, amps: float) -> float:
    """Resistance of a closed contact.

    Parameters
    ----------
    drop : [V], 0 or more
    amps : [A], above 0

    Returns
    -------
    [ohm]

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(contact_resistance(0.15, 15.0), 3)
    0.01
    """
    return drop / amps


def contact_heat(drop: float, amps: float) -> float:
    """Heat made in a closed contact.

    Parameters
    ----------
    drop : [V], 0 or more
    amps : [A], 0 or more

    Returns
    -------
    [W]

    References
    ----------
    Identity P = V I.

    Examples
    --------
    >>> round(contact_heat(0.15, 15.0), 2)
    2.25
    """
    return drop * amps


def minimum_circuit_ampacity(largest: float, others: Sequence[float]) -> float:
    """Ampacity that the conductors of a unit need.

    Parameters
    ----------
    largest : [A] of the largest motor, 0 or more
    others : [A] of each other motor, 0 or more

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.33.

    Examples
    --------
    >>> round(minimum_circuit_ampacity(18.6, [1.2]), 2)
    24.45
    """
    return LARGEST_MOTOR_SHARE * largest + sum(others)


def overcurrent_value(largest: float, others: Sequence[float], share: float) -> float:
    """Calculated value of the overcurrent device, before it is brought to a standard size.

    Parameters
    ----------
    largest : [A] of the largest motor, 0 or more
    others : [A] of each other motor, 0 or more
    share : [1], 1.75, or up to 2.25 where the motor will not start otherwise

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.22(A), 440.22(B)(1).

    Examples
    --------
    >>> round(overcurrent_value(18.6, [1.2], 1.75), 2)
    33.75
    """
    return share * largest + sum(others)


def size_not_above(value: float, sizes: Sequence[float]) -> float | None:
    """Largest standard size that is not above a value.

    Parameters
    ----------
    value : [A], 0 or more
    sizes : [A], rising

    Returns
    -------
    [A]; None below the smallest

    References
    ----------
    NEC 440.22(B)(1) with 240.6(A): not rounded up.

    Examples
    --------
    >>> size_not_above(33.75, [15.0, 20.0, 25.0, 30.0, 35.0])
    30.0
    """
    fitting = [size for size in sizes if size <= value * (1.0 + 1e-9)]
    return fitting[-1] if fitting else None


def disconnect_amps(rated_load_amps: float) -> float:
    """Smallest rating of a disconnect.

    Parameters
    ----------
    rated_load_amps : [A], 0 or more

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.12(A), 115 %.

    Examples
    --------
    >>> round(disconnect_amps(18.6), 2)
    21.39
    """
    return DISCONNECT_SHARE * rated_load_amps


def overload_relay_amps(rated_load_amps: float) -> float:
    """Highest trip setting of a separate overload relay.

    Parameters
    ----------
    rated_load_amps : [A], 0 or more

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.52(A)(1), 140 % (from memory).

    Examples
    --------
    >>> round(overload_relay_amps(18.6), 2)
    26.04
    """
    return OVERLOAD_RELAY_SHARE * rated_load_amps
