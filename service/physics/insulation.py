"""Insulation resistance: temperature correction and ratios."""

from math import exp

REFERENCE = 313.15  # K, 40 C (IEEE 43)
HALVING = 10.0  # K per halving (IEEE 43 approximate rule)


def corrected(ohms: float, temperature: float, reference: float = REFERENCE) -> float:
    """Insulation resistance brought to a reference temperature by the halving rule.

    Parameters
    ----------
    ohms : [ohm], 0 or more
    temperature : [K] of the winding when it was read
    reference : [K], 40 °C by default

    Returns
    -------
    [ohm]

    References
    ----------
    IEEE 43-2000/2013 approximate rule, R = Rt x 0.5^((40 - t) / 10).

    Examples
    --------
    >>> round(corrected(200e6, 293.15) / 1e6, 1)
    50.0
    """
    return float(ohms * 0.5 ** ((reference - temperature) / HALVING))


def thermosetting_factor(temperature: float) -> float:
    """Correction factor to 40 °C for thermosetting insulation.

    Parameters
    ----------
    temperature : [K], 283 to 358

    Returns
    -------
    [1]

    References
    ----------
    IEEE 43-2013 clause 6.3 (from memory).

    Examples
    --------
    >>> round(thermosetting_factor(333.15), 3)
    2.252
    """
    rounded = temperature - 0.15  # the clause counts 273 K to 0 C and 313 K to 40 C
    constant = 4230.0 if rounded > 313.0 else 1245.0
    return exp(-constant * (1.0 / rounded - 1.0 / 313.0))


def reading_ratio(later: float, earlier: float) -> float:
    """Later over earlier insulation reading (60 s over 10 s, 60 s over 30 s).

    Parameters
    ----------
    later, earlier : [ohm] or any other unit for both; earlier above 0

    Returns
    -------
    [1]

    References
    ----------
    US Army TM 55-1905-223-24-17 for 60 s over 10 s.

    Examples
    --------
    >>> round(reading_ratio(84.0, 60.0), 2)
    1.4
    """
    return later / earlier


def old_winding_minimum(volts: float) -> float:
    """Minimum for windings made before about 1970, at 40 °C.

    Parameters
    ----------
    volts : [V] rated, 0 or more

    Returns
    -------
    [ohm]

    References
    ----------
    IEEE 43, kV + 1 Mohm.

    Examples
    --------
    >>> round(old_winding_minimum(480.0) / 1e6, 2)
    1.48
    """
    return (volts / 1000.0 + 1.0) * 1e6
