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

    resistance: [ohm], at the wanted temperature, above 0; known_resistance: [ohm], above 0, at
    known_temperature [K]; intercept: [degC] of the conductor. Returns: [K].
    Source: IEEE/NEMA/UL practice, t2 = (R2/R1)(234.5 + t1) - 234.5; IEC 60034-1 uses 235.
    Example: 1.2 ohm at 25 C that reads 1.56 ohm is at 102.85 C.
    """
    offset = intercept - ZERO_CELSIUS
    return (resistance / known_resistance) * (offset + known_temperature) - offset


def resistance_at(
    resistance: float, temperature: float, wanted_temperature: float, intercept: float = COPPER
) -> float:
    """Resistance of a winding at another temperature.

    resistance: [ohm] at temperature [K]; wanted_temperature: [K]. Returns: [ohm].
    Source: the same relation, solved for the resistance.
    """
    offset = intercept - ZERO_CELSIUS
    return resistance * (offset + wanted_temperature) / (offset + temperature)


def synchronous_speed(frequency: float, poles: int) -> float:
    """Synchronous speed. frequency: [Hz]; poles: even, 2 and more. Returns: [rpm].

    Source: DOE-HDBK-1011/4 Eq. 12-2, n = 120 f / p. Example: 60 Hz, 4 poles: 1800 rpm.
    """
    return 120.0 * frequency / poles


def slip_percent(speed: float, synchronous: float) -> float:
    """Slip in percent of synchronous speed. speed, synchronous: [rpm]. Returns: [%].

    Source: DOE-HDBK-1011/4, page ES-12-6. Example: 3554 of 3600 rpm is 1.28 %.
    """
    return 100.0 * (synchronous - speed) / synchronous


def poles_nearest(rated_speed: float, frequency: float) -> int:
    """Number of poles whose synchronous speed lies next above a rated speed.

    rated_speed: [rpm], above 0; frequency: [Hz]. Returns: even number, 2 and more.
    Source: an induction motor always runs below synchronous speed (DOE-HDBK-1011/4).
    Example: 1075 rpm at 60 Hz has 6 poles.
    """
    return max(2, 2 * int(60.0 * frequency / rated_speed))


def apparent_power(volts: float, amps: float, phases: int = 1) -> float:
    """Apparent power. volts: [V] line to line; amps: [A] line current; phases: 1 or 3. Returns: [VA].

    Source: definition. Example: 240 V, 15 A: 3600 VA.
    """
    return volts * amps * (sqrt(3.0) if phases == 3 else 1.0)


def power_factor(watts: float, volts: float, amps: float, phases: int = 1) -> float:
    """Power factor. watts: [W]; volts: [V], amps: [A], both above 0; phases: 1 or 3. Returns: [1].

    Source: definition, P / S. Example: 2480 W at 230 V and 12.4 A: 0.8696.
    """
    return watts / apparent_power(volts, amps, phases)


def locked_rotor_amps(horsepower: float, volts: float, phases: int, kva_per_horsepower: float) -> float:
    """Locked-rotor current from a code letter's kVA per horsepower.

    horsepower: [hp]; volts: [V]; phases: 1 or 3; kva_per_horsepower: of the letter. Returns: [A].
    Source: NEC 430.7(B). Example: 0.25 hp, 230 V, one phase, 9.99 kVA/hp: 10.86 A.
    """
    return horsepower * kva_per_horsepower * 1000.0 / apparent_power(volts, 1.0, phases)


def rated_load_amps(maximum_continuous_current: float) -> float:
    """Rated-load amps from the maximum continuous current. Both [A].

    Source: NEC 440.52(A)(2), 156 %. Example: 29.0 A gives 18.59 A.
    """
    return maximum_continuous_current / MAXIMUM_CONTINUOUS_RATIO


def maximum_continuous_current(rated: float) -> float:
    """Highest current a thermal protector may pass for long. rated: rated-load amps [A]. Returns: [A].

    Source: NEC 440.52(A)(2), 156 %.
    """
    return rated * MAXIMUM_CONTINUOUS_RATIO


def highest_winding_resistance(volts: float, locked_amps: float, phases: int = 1) -> float:
    """Resistance that a main winding cannot exceed, read line to line.

    At standstill the whole line voltage drives the locked-rotor current through the winding's impedance, and
    a resistance is never more than the impedance it is part of. In a wye of three phases two windings are
    read in series, each fed by the phase voltage.
    volts: [V] rated; locked_amps: [A] locked-rotor amps, above 0; phases: 1 or 3. Returns: [ohm].
    Source: Ohm's law (circuit logic). The start winding's share of the current, a few percent in a
    permanent-split motor, is neglected. Example: 230 V and 96 A: 2.40 ohm.
    """
    return volts / locked_amps * (2.0 / sqrt(3.0) if phases == 3 else 1.0)
