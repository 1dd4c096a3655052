"""Shares as the texts say them."""

BANDS = (("most", 0.9), ("likely", 0.6), ("possible", 0.3), ("none", 0.0))  # least share; project choice
MOST_PERCENT = 99  # no share is ever said to be certain


def percent(share: float) -> int:
    """A probability [0..1] in whole percent, 1 to 99: nothing is certain, and nothing named is impossible."""
    return min(MOST_PERCENT, max(1, round(100.0 * share)))


def band(share: float) -> str:
    """How surely a cause with this probability [0..1] is spoken of: most, likely, possible or none."""
    return next(name for name, least in BANDS if share >= least)
