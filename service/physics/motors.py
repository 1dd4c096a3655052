"""Motors: winding resistance and temperature, speed and slip, power, locked-rotor and rated current."""

from math import sqrt

COPPER = 234.5  # degC, zero-resistance intercept of copper (IEEE, NEMA and UL practice)
COPPER_IEC = 235.0  # degC, the same by IEC 60034-1
ZERO_CELSIUS = 273.15  # K
MAXIMUM_CONTINUOUS_RATIO = 1.56  # NEC 440.52(A)(2): a thermal protector passes at most 156 % of RLA


def winding_temperature(
    resistance: float, known_resistance: float, known_temperature: float, intercept: float = COPPER
) -> float:
    """Temperature of a winding from its resistance.

    Parameters
    ----------
    resistance : [ohm] at the wanted temperature, above 0
    known_resistance : [ohm], above 0
    known_temperature : [K] at the known resistance
    intercept : [°C] where the conductor would have no resistance

    Returns
    -------
    [K]

    References
    ----------
    Practice of IEEE, NEMA and UL, t2 = (R2 / R1)(234.5 + t1) - 234.5; IEC 60034-1 uses 235.

    Examples
    --------
    >>> round(winding_temperature(1.56, 1.2, 298.15) - 273.15, 2)
    102.85
    """
    offset = intercept - ZERO_CELSIUS
    return (resistance / known_resistance) * (offset + known_temperature) - offset


def resistance_at(
    resistance: float, temperature: float, wanted_temperature: float, intercept: float = COPPER
) -> float:
    """Resistance of a winding at another temperature.

    Parameters
    ----------
    resistance : [ohm] at `temperature`, above 0
    temperature, wanted_temperature : [K]
    intercept : [°C] where the conductor would have no resistance

    Returns
    -------
    [ohm]

    References
    ----------
    The relation of `winding_temperature`, solved for the resistance.

    Examples
    --------
    >>> round(resistance_at(1.2, 298.15, 376.0), 2)
    1.56
    """
    offset = intercept - ZERO_CELSIUS
    return resistance * (offset + wanted_temperature) / (offset + temperature)


def synchronous_speed(frequency: float, poles: int) -> float:
    """Synchronous speed.

    Parameters
    ----------
    frequency : [Hz], above 0
    poles : [1], even, 2 or more

    Returns
    -------
    [rpm]

    References
    ----------
    DOE-HDBK-1011/4 equation 12-2, n = 120 f / p.

    Examples
    --------
    >>> synchronous_speed(60.0, 4)
    1800.0
    """
    return 120.0 * frequency / poles


def slip_percent(speed: float, synchronous: float) -> float:
    """Slip in percent of synchronous speed.

    Parameters
    ----------
    speed, synchronous : [rpm], synchronous above 0

    Returns
    -------
    [%]

    References
    ----------
    DOE-HDBK-1011/4, page ES-12-6.

    Examples
    --------
    >>> round(slip_percent(3554.0, 3600.0), 2)
    1.28
    """
    return 100.0 * (synchronous - speed) / synchronous


def poles_nearest(rated_speed: float, frequency: float) -> int:
    """Number of poles whose synchronous speed lies next above a rated speed.

    Parameters
    ----------
    rated_speed : [rpm], above 0
    frequency : [Hz], above 0

    Returns
    -------
    [1], even, 2 or more

    References
    ----------
    An induction motor always runs below synchronous speed (DOE-HDBK-1011/4).

    Examples
    --------
    >>> poles_nearest(1075.0, 60.0)
    6
    """
    return max(2, 2 * int(60.0 * frequency / rated_speed))


def apparent_power(volts: float, amps: float, phases: int = 1) -> float:
    """Apparent power.

    Parameters
    ----------
    volts : [V] line to line, 0 or more
    amps : [A] line current, 0 or more
    phases : [1], 1 or 3

    Returns
    -------
    [VA]

    References
    ----------
    Definition.

    Examples
    --------
    >>> apparent_power(240.0, 15.0)
    3600.0
    """
    return volts * amps * (sqrt(3.0) if phases == 3 else 1.0)


def power_factor(watts: float, volts: float, amps: float, phases: int = 1) -> float:
    """Power factor.

    Parameters
    ----------
    watts : [W], 0 or more
    volts : [V] line to line, above 0
    amps : [A] line current, above 0
    phases : [1], 1 or 3

    Returns
    -------
    [1]

    References
    ----------
    Definition, P / S.

    Examples
    --------
    >>> round(power_factor(2480.0, 230.0, 12.4), 4)
    0.8696
    """
    return watts / apparent_power(volts, amps, phases)


def locked_rotor_amps(horsepower: float, volts: float, phases: int, kva_per_horsepower: float) -> float:
    """Locked-rotor current from a code letter's kVA per horsepower.

    Parameters
    ----------
    horsepower : [hp], 0 or more
    volts : [V], above 0
    phases : [1], 1 or 3
    kva_per_horsepower : [kVA/hp] of the letter

    Returns
    -------
    [A]

    References
    ----------
    NEC 430.7(B).

    Examples
    --------
    >>> round(locked_rotor_amps(0.25, 230.0, 1, 9.99), 2)
    10.86
    """
    return horsepower * kva_per_horsepower * 1000.0 / apparent_power(volts, 1.0, phases)


def rated_load_amps(maximum_continuous_current: float) -> float:
    """Rated-load amps from the maximum continuous current.

    Parameters
    ----------
    maximum_continuous_current : [A], 0 or more

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.52(A)(2), 156 %.

    Examples
    --------
    >>> round(rated_load_amps(29.0), 2)
    18.59
    """
    return maximum_continuous_current / MAXIMUM_CONTINUOUS_RATIO


def maximum_continuous_current(rated: float) -> float:
    """Highest current a thermal protector may pass for long.

    Parameters
    ----------
    rated : [A] rated-load amps, 0 or more

    Returns
    -------
    [A]

    References
    ----------
    NEC 440.52(A)(2), 156 %.

    Examples
    --------
    >>> round(maximum_continuous_current(18.59), 1)
    29.0
    """
    return rated * MAXIMUM_CONTINUOUS_RATIO


def highest_winding_resistance(volts: float, locked_amps: float, phases: int = 1) -> float:
    """Resistance that a main winding cannot exceed, read line to line.

    At standstill the whole line voltage drives the locked-rotor current through the winding's impedance, and a
    resistance is never more than the impedance it is part of. In a wye of three phases two windings are read in
    series, each fed by the phase voltage. The start winding's share of the current, a few percent in a
    permanent-split motor, is neglected.

    Parameters
    ----------
    volts : [V] rated, above 0
    locked_amps : [A] locked-rotor amps, above 0
    phases : [1], 1 or 3

    Returns
    -------
    [ohm]

    References
    ----------
    Ohm's law (circuit logic).

    Examples
    --------
    >>> round(highest_winding_resistance(230.0, 96.0), 2)
    2.4
    """
    return volts / locked_amps * (2.0 / sqrt(3.0) if phases == 3 else 1.0)
