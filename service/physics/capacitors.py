"""Capacitors: capacitance under load, stored energy, bleeding, label limits."""

from math import log, pi, sqrt

MICRO = 1e-6


def capacitance_under_load(amps: float, volts: float, frequency: float) -> float:
    """Capacitance from the current through and the voltage across a running capacitor.

    amps: [A]; volts: [V], across the terminals, above 0; frequency: [Hz]. Returns: [microfarad].
    Source: identity Xc = 1/(2 pi f C). Example: 5.6 A, 330 V, 60 Hz: 45.01 microfarad.
    """
    return amps / (2.0 * pi * frequency * volts) / MICRO


def peak_volts(volts: float) -> float:
    """Peak of a sine voltage. volts: [V] rms. Returns: [V]. Source: definition."""
    return sqrt(2.0) * volts


def stored_energy(microfarads: float, peak: float) -> float:
    """Energy in a charged capacitor. microfarads; peak: [V]. Returns: [J].

    Source: identity C V^2 / 2. Example: 45 microfarad at the peak of 370 V: 6.16 J.
    """
    return 0.5 * microfarads * MICRO * peak**2


def bleed_seconds(microfarads: float, ohms: float, from_volts: float, to_volts: float) -> float:
    """Time to bleed a capacitor through a resistor.

    microfarads; ohms: [ohm]; from_volts, to_volts: [V], both above 0. Returns: [s], 0 when already below.
    Source: identity R C ln(V0/V); 50 V by NEC 460.6. Example: 45 microfarad, 20 kohm, 523.3 V: 2.11 s.
    """
    return max(0.0, ohms * microfarads * MICRO * log(from_volts / to_volts))


def in_series(first: float, second: float) -> float:
    """Capacitance of two capacitors in series. Both above 0, same unit. Source: identity.

    Example: 5 and 7.5 microfarad: 3.0 microfarad.
    """
    return 1.0 / (1.0 / first + 1.0 / second)


def label_limits(rated: float, minus_percent: float, plus_percent: float) -> tuple[float, float]:
    """Lowest and highest capacitance the label allows. rated: [microfarad]; tolerances [%], positive.

    Source: definition of the label tolerance. Example: 45 +-6 %: 42.3 to 47.7 microfarad.
    """
    return rated * (1.0 - minus_percent / 100.0), rated * (1.0 + plus_percent / 100.0)


def deviation_percent(measured: float, rated: float) -> float:
    """Deviation from a rated value. rated above 0. Returns: [%]. Source: definition."""
    return 100.0 * (measured - rated) / rated
