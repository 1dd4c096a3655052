"""Leak rates of the federal rules: both methods."""

YEAR = 365.0  # days, as the rules have it


def annualizing_rate(added: float, full_charge: float, days: float) -> float:
    """Leak rate by the annualizing method.

    Parameters
    ----------
    added : [kg] that brought the appliance back to full charge, 0 or more
    full_charge : [kg], above 0
    days : [d] since refrigerant was last added before; above 0, counted as 365 where longer

    Returns
    -------
    [% of full charge in 12 months]

    References
    ----------
    40 CFR 82.152 and 84.102 (leak rate, annualizing method).

    Examples
    --------
    >>> round(annualizing_rate(6.0, 80.0, 500.0), 1)
    7.5
    """
    return added / full_charge * YEAR / min(YEAR, days) * 100.0


def rolling_average_rate(added: float, full_charge: float) -> float:
    """Leak rate by the rolling average method.

    Parameters
    ----------
    added : [kg] in the last 365 days, or since the leaks were last repaired if shorter; 0 or more
    full_charge : [kg], above 0

    Returns
    -------
    [% of full charge in 12 months]

    References
    ----------
    40 CFR 82.152 and 84.102 (leak rate, rolling average method).

    Examples
    --------
    >>> round(rolling_average_rate(6.0, 80.0), 1)
    7.5
    """
    return added / full_charge * 100.0
