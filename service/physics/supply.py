"""Supply: sag, unbalance, derating, source impedance, transformers."""

from collections.abc import Sequence
from itertools import pairwise

CURRENT_UNBALANCE_LOW = 6.0  # times the voltage unbalance, NEMA MG 1 as restated in the trade press
CURRENT_UNBALANCE_HIGH = 10.0


def sag_percent(idle_volts: float, starting_volts: float) -> float:
    """Drop of the line voltage while starting. Both [V], idle above 0. Returns: [%] of the idle voltage.

    Source: definition. Example: 242 V to 221 V: 8.68 %.
    """
    return 100.0 * (idle_volts - starting_volts) / idle_volts


def source_impedance(idle_volts: float, starting_volts: float, starting_amps: float) -> float:
    """Impedance of the supply up to the meter, drop and current taken as in phase.

    idle_volts, starting_volts: [V]; starting_amps: [A], above 0. Returns: [ohm].
    Source: Ohm's law. Example: 242 V, 221 V, 96 A: 0.2188 ohm.
    """
    return (idle_volts - starting_volts) / starting_amps


def unbalance_percent(values: Sequence[float]) -> float:
    """Greatest deviation from the mean over the mean, for volts, amps or ohms of three phases.

    values: three, with a mean above 0. Returns: [%].
    Source: NEMA MG 1 14.36. Example: 462, 463, 455 V: 1.09 %.
    """
    mean = sum(values) / len(values)
    return 100.0 * max(abs(value - mean) for value in values) / mean


def derating_factor(unbalance: float, table: Sequence[tuple[float, float]]) -> float | None:
    """Share of its rated power that a three-phase motor may give under voltage unbalance.

    unbalance: [%], 0 and more; table: (unbalance [%], factor) in rising order. Returns: [1], interpolated;
    None beyond the last row, where a motor must not run.
    Source: NEMA MG 1 Fig. 14-1. Example: 2.0 %: 0.95.
    """
    for (low, factor_low), (high, factor_high) in pairwise(table):
        if low <= unbalance <= high:
            return factor_low + (factor_high - factor_low) * (unbalance - low) / (high - low)
    return None


def expected_current_unbalance(voltage_unbalance: float) -> tuple[float, float]:
    """Current unbalance that a voltage unbalance makes by itself. [%] in, lowest and highest [%] out.

    Source: NEMA MG 1 as restated in the trade press, 6 to 10 times. Example: 1.7 % gives 10.2 to 17 %.
    """
    return CURRENT_UNBALANCE_LOW * voltage_unbalance, CURRENT_UNBALANCE_HIGH * voltage_unbalance


def secondary_volts(rated_secondary: float, line_volts: float, tap_volts: float) -> float:
    """Secondary voltage of a transformer whose tap is not its line voltage. All [V]; tap above 0.

    Source: turns ratio. Example: 24 V, 208 V on the 240 V tap: 20.8 V.
    """
    return rated_secondary * line_volts / tap_volts


def transformer_amps(volt_amperes: float, volts: float) -> float:
    """Current of a transformer at a load. volt_amperes: [VA]; volts: [V], above 0. Returns: [A].

    Source: definition. Example: 40 VA at 24 V: 1.667 A.
    """
    return volt_amperes / volts


def heater_resistance(volts: float, watts: float) -> float:
    """Resistance of a heater from its label. volts: [V]; watts: [W], above 0. Returns: [ohm].

    Source: identity V^2/W. Example: 240 V, 40 W: 1440 ohm.
    """
    return volts**2 / watts
