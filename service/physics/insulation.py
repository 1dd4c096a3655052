"""Insulation resistance: temperature correction and ratios."""

from math import exp

REFERENCE = 313.15  # K, 40 C (IEEE 43)
HALVING = 10.0  # K per halving (IEEE 43 approximate rule)


def corrected(ohms: float, temperature: float, reference: float = REFERENCE) -> float:
    """Insulation resistance brought to a reference temperature by the halving rule.

    ohms: [ohm] read at temperature [K]; reference: [K], 40 C by default. Returns: [ohm].
    Source: IEEE 43-2000/2013 approximate rule, R = Rt x 0.5^((40 - t)/10).
    Example: 200 Mohm at 20 C is 50 Mohm at 40 C.
    """
    return float(ohms * 0.5 ** ((reference - temperature) / HALVING))


def thermosetting_factor(temperature: float) -> float:
    """Correction factor to 40 C for thermosetting insulation. temperature: [K], 283 to 358. Returns: [1].

    Source: IEEE 43-2013 clause 6.3 (from memory). Example: 60 C: 2.252.
    """
    rounded = temperature - 0.15  # the clause counts 273 K to 0 C and 313 K to 40 C
    constant = 4230.0 if rounded > 313.0 else 1245.0
    return exp(-constant * (1.0 / rounded - 1.0 / 313.0))


def reading_ratio(later: float, earlier: float) -> float:
    """Later over earlier insulation reading (60 s / 10 s, 60 s / 30 s). Same unit, earlier above 0.

    Source: US Army TM 55-1905-223-24-17 for 60 s / 10 s. Example: 84 and 60 Mohm: 1.4.
    """
    return later / earlier


def old_winding_minimum(volts: float) -> float:
    """Minimum for windings made before about 1970, at 40 C. volts: [V] rated. Returns: [ohm].

    Source: IEEE 43, kV + 1 Mohm. Example: 480 V: 1.48 Mohm.
    """
    return (volts / 1000.0 + 1.0) * 1e6
