"""How good the instruments of a procedure are: the caller's, or the documented defaults.

Accuracy is a gauge against the truth; repeatability is one gauge against itself, which is what counts where
two of its readings are compared.
"""

from math import hypot, sqrt

from service.knowledge.limits import limit
from service.results.visit.site import Instruments

COVERAGE = 2.0  # of a 95 % half-width
WITHIN_DIGIT = sqrt(12.0)  # a reading lies anywhere within its last digit; JCGM 100:2008, 4.3.7


def pressure_accuracy(instruments: Instruments) -> float:
    """95 % half-width of a test-pressure reading; the high-side gauge's where not stated.

    Returns
    -------
    [Pa]

    References
    ----------
    The gauge as stated, else the row `instruments.liquid-pressure`.
    """
    given = instruments.pressure_accuracy
    return limit("instruments.liquid-pressure").value if given is None else given


def temperature_accuracy(instruments: Instruments) -> float:
    """95 % half-width of a temperature reading.

    Returns
    -------
    [K]

    References
    ----------
    The thermometer as stated, else the row `instruments.temperature`.
    """
    given = instruments.temperature_accuracy
    return limit("instruments.temperature").value if given is None else given


def pressure_deviation(instruments: Instruments, pressure: float) -> float:
    """Standard deviation of one gauge against itself.

    Parameters
    ----------
    pressure : [Pa] absolute

    Returns
    -------
    [Pa]

    References
    ----------
    JCGM 100:2008 (GUM), clause 4.3.7 for the digit, with the row `instruments.pressure-repeatability-percent`.
    """
    given = instruments.pressure_resolution
    digit = limit("instruments.pressure-resolution").value if given is None else given
    own = pressure * limit("instruments.pressure-repeatability-percent").value / 100.0
    deviation = hypot(digit / WITHIN_DIGIT, own / COVERAGE)
    stated = instruments.pressure_accuracy
    return deviation if stated is None or given is not None else min(deviation, max(stated, 1.0) / COVERAGE)


def temperature_deviation(instruments: Instruments) -> float:
    """Standard deviation of one thermometer against itself; never above its accuracy.

    Returns
    -------
    [K]

    References
    ----------
    The row `instruments.temperature-repeatability`.
    """
    own = limit("instruments.temperature-repeatability").value
    return min(own, max(temperature_accuracy(instruments), 1e-3)) / COVERAGE


def vacuum_deviation(instruments: Instruments, vacuum: float) -> float:
    """Standard deviation of one vacuum gauge against itself.

    Parameters
    ----------
    vacuum : [Pa] absolute

    Returns
    -------
    [Pa]

    References
    ----------
    The rows `procedures.vacuum-gauge-step` and `procedures.vacuum-gauge-percent`.
    """
    given = instruments.vacuum_resolution
    digit = limit("procedures.vacuum-gauge-step").value if given is None else given / WITHIN_DIGIT
    return max(digit, 1e-4) + vacuum * limit("procedures.vacuum-gauge-percent").value / 100.0
