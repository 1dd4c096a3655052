"""Supply: sag, unbalance, derating, source impedance, transformers."""

from collections.abc import Sequence
from itertools import pairwise

CURRENT_UNBALANCE_LOW = 6.0  # times the voltage unbalance, NEMA MG 1 as restated in the trade press
CURRENT_UNBALANCE_HIGH = 10.0


def sag_percent(idle_volts: float, starting_volts: float) -> float:
    """Drop of the line voltage while starting.

    Parameters
    ----------
    idle_volts : [V], above 0
    starting_volts : [V], 0 or more

    Returns
    -------
    [% of the idle voltage]

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(sag_percent(242.0, 221.0), 2)
    8.68
    """
    return 100.0 * (idle_volts - starting_volts) / idle_volts


def source_impedance(idle_volts: float, starting_volts: float, starting_amps: float) -> float:
    """Impedance of the supply up to the meter, drop and current taken as in phase.

    Parameters
    ----------
    idle_volts, starting_volts : [V], 0 or more
    starting_amps : [A], above 0

    Returns
    -------
    [ohm]

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> source_impedance(242.0, 221.0, 96.0)
    0.21875
    """
    return (idle_volts - starting_volts) / starting_amps


def unbalance_percent(values: Sequence[float]) -> float:
    """Greatest deviation from the mean over the mean, for volts, amps or ohms of three phases.

    Parameters
    ----------
    values : [V], [A] or [ohm], three with a mean above 0

    Returns
    -------
    [%]

    References
    ----------
    NEMA MG 1 14.36.

    Examples
    --------
    >>> round(unbalance_percent([462.0, 463.0, 455.0]), 2)
    1.09
    """
    mean = sum(values) / len(values)
    return 100.0 * max(abs(value - mean) for value in values) / mean


def derating_factor(unbalance: float, table: Sequence[tuple[float, float]]) -> float | None:
    """Share of its rated power that a three-phase motor may give under voltage unbalance.

    Parameters
    ----------
    unbalance : [%], 0 or more
    table : [%] and [1], unbalance and factor in rising order

    Returns
    -------
    [1], interpolated; None beyond the last row, where a motor must not run

    References
    ----------
    NEMA MG 1 figure 14-1.

    Examples
    --------
    >>> derating_factor(2.0, [(0.0, 1.0), (2.0, 0.95), (5.0, 0.75)])
    0.95
    """
    for (low, factor_low), (high, factor_high) in pairwise(table):
        if low <= unbalance <= high:
            return factor_low + (factor_high - factor_low) * (unbalance - low) / (high - low)
    return None


def expected_current_unbalance(voltage_unbalance: float) -> tuple[float, float]:
    """Current unbalance that a voltage unbalance makes by itself.

    Parameters
    ----------
    voltage_unbalance : [%], 0 or more

    Returns
    -------
    [%], lowest and highest

    References
    ----------
    NEMA MG 1 as restated in the trade press, 6 to 10 times.

    Examples
    --------
    >>> [round(value, 1) for value in expected_current_unbalance(1.7)]
    [10.2, 17.0]
    """
    return CURRENT_UNBALANCE_LOW * voltage_unbalance, CURRENT_UNBALANCE_HIGH * voltage_unbalance


def secondary_volts(rated_secondary: float, line_volts: float, tap_volts: float) -> float:
    """Secondary voltage of a transformer whose tap is not its line voltage.

    Parameters
    ----------
    rated_secondary, line_volts : [V], 0 or more
    tap_volts : [V], above 0

    Returns
    -------
    [V]

    References
    ----------
    Turns ratio.

    Examples
    --------
    >>> round(secondary_volts(24.0, 208.0, 240.0), 1)
    20.8
    """
    return rated_secondary * line_volts / tap_volts


def transformer_amps(volt_amperes: float, volts: float) -> float:
    """Current of a transformer at a load.

    Parameters
    ----------
    volt_amperes : [VA], 0 or more
    volts : [V], above 0

    Returns
    -------
    [A]

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(transformer_amps(40.0, 24.0), 3)
    1.667
    """
    return volt_amperes / volts


def heater_resistance(volts: float, watts: float) -> float:
    """Resistance of a heater from its label.

    Parameters
    ----------
    volts : [V], 0 or more
    watts : [W], above 0

    Returns
    -------
    [ohm]

    References
    ----------
    Identity V^2 / W.

    Examples
    --------
    >>> heater_resistance(240.0, 40.0)
    1440.0
    """
    return volts**2 / watts
