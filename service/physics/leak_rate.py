"""Leak rates of the federal rules: both methods."""

YEAR = 365.0  # days, as the rules have it


def annualizing_rate(added: float, full_charge: float, days: float) -> float:
    """Leak rate by the annualizing method [% of full charge in 12 months].

    Parameters
    ----------
    added: refrigerant that brought the appliance back to full charge [kg], 0 or more.
    full_charge: [kg], above 0.
    days: since refrigerant was last added before; above 0, counted as 365 where longer.

    Source: 40 CFR 82.152 and 84.102 (leak rate, annualizing method). Example: 6 lb of 80 lb after 500 days: 7.5 %.
    """
    return added / full_charge * YEAR / min(YEAR, days) * 100.0


def rolling_average_rate(added: float, full_charge: float) -> float:
    """Leak rate by the rolling average method [% of full charge in 12 months].

    Parameters
    ----------
    added: all refrigerant added in the last 365 days, or since the leaks were last repaired if shorter [kg].
    full_charge: [kg], above 0.

    Source: 40 CFR 82.152 and 84.102 (leak rate, rolling average method).
    """
    return added / full_charge * 100.0
