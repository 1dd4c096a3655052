"""Voltages of the nameplate."""

from service.results.visit import Visit

MARKED = {"208_230": (208.0, 230.0), "220_240": (220.0, 240.0), "380_415": (380.0, 415.0)}


def marked_volts(visit: Visit) -> tuple[float, float] | None:
    """Lower and higher voltage of the nameplate.

    Returns
    -------
    [V]; None when it is not given

    References
    ----------
    The nameplate.
    """
    nominal = visit.equipment.nominal_voltage
    if nominal is None:
        return None
    return MARKED.get(nominal) or (float(nominal), float(nominal))
