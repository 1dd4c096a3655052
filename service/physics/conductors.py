"""Conductors, contacts and their protection: drop, heat, circuit ampacity, overcurrent device."""

from collections.abc import Sequence

LARGEST_MOTOR_SHARE = 1.25  # NEC 440.33
DISCONNECT_SHARE = 1.15  # NEC 440.12(A)
OVERLOAD_RELAY_SHARE = 1.40  # NEC 440.52(A)(1)
KILOFEET = 304.8  # m


def loop_drop(length: float, ohms_per_kilofoot: float, amps: float) -> float:
    """Voltage lost along a two-wire circuit.

    length: [m] one way; ohms_per_kilofoot: [ohm/1000 ft] of one conductor; amps: [A]. Returns: [V].
    Source: Ohm's law with NEC Chapter 9 Table 8. Example: 100 ft, 1.21 ohm/kft, 24 A: 5.81 V.
    """
    return 2.0 * length / KILOFEET * ohms_per_kilofoot * amps


def contact_resistance(drop: float, amps: float) -> float:
    """Resistance of a closed contact. drop: [V]; amps: [A], above 0. Returns: [ohm].

    Source: Ohm's law. Example: 0.15 V at 15 A: 0.010 ohm.
    """
    return drop / amps


def contact_heat(drop: float, amps: float) -> float:
    """Heat made in a closed contact. drop: [V]; amps: [A]. Returns: [W]. Source: identity V I."""
    return drop * amps


def minimum_circuit_ampacity(largest: float, others: Sequence[float]) -> float:
    """Ampacity that the conductors of a unit need. largest, others: [A] of the motors. Returns: [A].

    Source: NEC 440.33. Example: 18.6 A and 1.2 A: 24.45 A.
    """
    return LARGEST_MOTOR_SHARE * largest + sum(others)


def overcurrent_value(largest: float, others: Sequence[float], share: float) -> float:
    """Calculated value of the overcurrent device, before it is brought to a standard size.

    largest, others: [A]; share: 1.75, or up to 2.25 where the motor will not start otherwise. Returns: [A].
    Source: NEC 440.22(A), 440.22(B)(1). Example: 18.6 A, 1.2 A, 1.75: 33.75 A.
    """
    return share * largest + sum(others)


def size_not_above(value: float, sizes: Sequence[float]) -> float | None:
    """Largest standard size that is not above a value, None below the smallest. value: [A]; sizes: rising [A].

    Source: NEC 440.22(B)(1) with 240.6(A): not rounded up. Example: 33.75 A: 30 A.
    """
    fitting = [size for size in sizes if size <= value * (1.0 + 1e-9)]
    return fitting[-1] if fitting else None


def disconnect_amps(rated_load_amps: float) -> float:
    """Smallest rating of a disconnect. [A] in and out. Source: NEC 440.12(A), 115 %."""
    return DISCONNECT_SHARE * rated_load_amps


def overload_relay_amps(rated_load_amps: float) -> float:
    """Highest trip setting of a separate overload relay. [A] in and out.

    Source: NEC 440.52(A)(1), 140 % (from memory).
    """
    return OVERLOAD_RELAY_SHARE * rated_load_amps
