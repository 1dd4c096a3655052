"""How far an electrical reading may be off: percent of reading, last digit, meter leads."""

from math import hypot

from service.knowledge.limits import limit
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.instruments import accuracy


def combined(*uncertainties: float) -> float:
    """Independent half-widths combined (root sum of squares; JCGM 100:2008, clause 5.1.2)."""
    return hypot(*uncertainties)


def electrical_uncertainty(visit: Visit, value: float) -> float:
    """Half-width of a reading in volts, amps or watts, in its unit."""
    return abs(value) * accuracy(visit).electrical_percent / 100.0


def ratio_percent_uncertainty(visit: Visit, value: float) -> float:
    """Half-width of a ratio (or product) of two electrical readings, in the unit of the value."""
    return combined(electrical_uncertainty(visit, value), electrical_uncertainty(visit, value))


def ohm_error(visit: Visit, ohms: float) -> float:
    """Half-width [ohm] of a reading by the meter alone: percent of reading and last digit."""
    return combined(electrical_uncertainty(visit, ohms), limit("instruments.ohm-resolution").value)


def ohm_uncertainty(visit: Visit, ohms: float) -> float:
    """Half-width [ohm] with the leads; wider where the leads were not read shorted together."""
    nulled = visit.electrical.windings.lead_ohms is not None
    leads = 0.0 if nulled else limit("windings.leads-not-nulled").value
    return combined(ohm_error(visit, ohms), leads)


def ohms(visit: Visit, value: float) -> Quantity:
    """A resistance with its uncertainty."""
    return Quantity(value, "ohms", ohm_uncertainty(visit, value))


def electrical(visit: Visit, value: float, kind: str) -> Quantity:
    """A reading of volts, amps or watts with its uncertainty."""
    return Quantity(value, kind, electrical_uncertainty(visit, value))
