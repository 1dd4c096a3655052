"""Capacitors: capacitance under load, stored energy, bleeding, label limits."""

from math import log, pi, sqrt

MICRO = 1e-6


def capacitance_under_load(amps: float, volts: float, frequency: float) -> float:
    """Capacitance from the current through and the voltage across a running capacitor.

    Parameters
    ----------
    amps : [A], 0 or more
    volts : [V] across the terminals, above 0
    frequency : [Hz], above 0

    Returns
    -------
    [microfarad]

    References
    ----------
    Identity Xc = 1 / (2 pi f C).

    Examples
    --------
    >>> round(capacitance_under_load(5.6, 330.0, 60.0), 2)
    45.01
    """
    return amps / (2.0 * pi * frequency * volts) / MICRO


def peak_volts(volts: float) -> float:
    """Peak of a sine voltage.

    Parameters
    ----------
    volts : [V] rms, 0 or more

    Returns
    -------
    [V]

    References
    ----------
    Definition of the root mean square.

    Examples
    --------
    >>> round(peak_volts(370.0), 1)
    523.3
    """
    return sqrt(2.0) * volts


def stored_energy(microfarads: float, peak: float) -> float:
    """Energy in a charged capacitor.

    Parameters
    ----------
    microfarads : [microfarad], 0 or more
    peak : [V], 0 or more

    Returns
    -------
    [J]

    References
    ----------
    Identity C V^2 / 2.

    Examples
    --------
    >>> round(stored_energy(45.0, peak_volts(370.0)), 2)
    6.16
    """
    return 0.5 * microfarads * MICRO * peak**2


def bleed_seconds(microfarads: float, ohms: float, from_volts: float, to_volts: float) -> float:
    """Time to bleed a capacitor through a resistor.

    Parameters
    ----------
    microfarads : [microfarad], 0 or more
    ohms : [ohm], above 0
    from_volts, to_volts : [V], both above 0

    Returns
    -------
    [s], 0 when already below

    References
    ----------
    Identity R C ln(V0 / V); 50 V by NEC 460.6.

    Examples
    --------
    >>> round(bleed_seconds(45.0, 20_000.0, 523.3, 50.0), 2)
    2.11
    """
    return max(0.0, ohms * microfarads * MICRO * log(from_volts / to_volts))


def in_series(first: float, second: float) -> float:
    """Capacitance of two capacitors in series.

    Parameters
    ----------
    first, second : [microfarad] or any other unit for both, above 0

    Returns
    -------
    [microfarad], the unit of the two

    References
    ----------
    Identity 1 / C = 1 / C1 + 1 / C2.

    Examples
    --------
    >>> round(in_series(5.0, 7.5), 3)
    3.0
    """
    return 1.0 / (1.0 / first + 1.0 / second)


def label_limits(rated: float, minus_percent: float, plus_percent: float) -> tuple[float, float]:
    """Lowest and highest capacitance that the label allows.

    Parameters
    ----------
    rated : [microfarad], above 0
    minus_percent, plus_percent : [%], both written as positive numbers

    Returns
    -------
    [microfarad], lowest and highest

    References
    ----------
    Definition of the label's tolerance.

    Examples
    --------
    >>> [round(limit, 1) for limit in label_limits(45.0, 6.0, 6.0)]
    [42.3, 47.7]
    """
    return rated * (1.0 - minus_percent / 100.0), rated * (1.0 + plus_percent / 100.0)


def deviation_percent(measured: float, rated: float) -> float:
    """Deviation from a rated value.

    Parameters
    ----------
    measured, rated : [microfarad] or any other unit for both; rated above 0

    Returns
    -------
    [%], below 0 where less was measured

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(deviation_percent(36.0, 45.0), 1)
    -20.0
    """
    return 100.0 * (measured - rated) / rated
