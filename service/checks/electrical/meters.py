"""How far an electrical reading may be off: percent of reading, last digit, meter leads."""

from math import hypot

from service.knowledge.limits import limit
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.instruments import accuracy


def combined(*uncertainties: float) -> float:
    """Independent half-widths combined: root of the sum of the squares.

    Parameters
    ----------
    uncertainties : [any unit, the same for all] half-widths, 0 or more

    Returns
    -------
    [unit of the half-widths]

    References
    ----------
    JCGM 100:2008 (GUM), clause 5.1.2.

    Examples
    --------
    >>> combined(3.0, 4.0)
    5.0
    """
    return hypot(*uncertainties)


def electrical_uncertainty(visit: Visit, value: float) -> float:
    """Half-width of a reading in volts, amps or watts.

    Parameters
    ----------
    value : [V], [A] or [W]

    Returns
    -------
    [V], [A] or [W], the unit of the value

    References
    ----------
    The meter's stated percent of reading, else the usual one of `topics/instruments.yaml`.
    """
    return abs(value) * accuracy(visit).electrical_percent / 100.0


def ratio_percent_uncertainty(visit: Visit, value: float) -> float:
    """Half-width of a ratio (or product) of two electrical readings.

    Parameters
    ----------
    value : [%] or the unit of the product

    Returns
    -------
    [%] or the unit of the product

    References
    ----------
    JCGM 100:2008 (GUM), equation 12, for two readings of one meter.
    """
    return combined(electrical_uncertainty(visit, value), electrical_uncertainty(visit, value))


def ohm_error(visit: Visit, ohms: float) -> float:
    """Half-width of a reading by the meter alone: percent of reading and last digit.

    Parameters
    ----------
    ohms : [ohm], 0 or more

    Returns
    -------
    [ohm]

    References
    ----------
    JCGM 100:2008 (GUM), clause 5.1.2, with the row `instruments.ohm-resolution`.
    """
    return combined(electrical_uncertainty(visit, ohms), limit("instruments.ohm-resolution").value)


def ohm_uncertainty(visit: Visit, ohms: float) -> float:
    """Half-width with the leads; wider where the leads were not read shorted together.

    Parameters
    ----------
    ohms : [ohm], 0 or more

    Returns
    -------
    [ohm]

    References
    ----------
    JCGM 100:2008 (GUM), clause 5.1.2, with the row `windings.leads-not-nulled`.
    """
    nulled = visit.electrical.windings.lead_ohms is not None
    leads = 0.0 if nulled else limit("windings.leads-not-nulled").value
    return combined(ohm_error(visit, ohms), leads)


def ohms(visit: Visit, value: float) -> Quantity:
    """A resistance with its uncertainty.

    Parameters
    ----------
    value : [ohm], 0 or more

    Returns
    -------
    [ohm]

    References
    ----------
    `ohm_uncertainty`.
    """
    return Quantity(value, "ohms", ohm_uncertainty(visit, value))


def electrical(visit: Visit, value: float, kind: str) -> Quantity:
    """A reading of volts, amps or watts with its uncertainty.

    Parameters
    ----------
    value : [V], [A] or [W]

    Returns
    -------
    [V], [A] or [W], the unit of the value

    References
    ----------
    `electrical_uncertainty`.
    """
    return Quantity(value, kind, electrical_uncertainty(visit, value))
