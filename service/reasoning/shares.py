"""Shares as the texts say them."""

MOST_PERCENT = 99  # no share is ever said to be certain


def percent(share: float) -> int:
    """A probability [0..1] in whole percent, 1 to 99: nothing is certain, and nothing named is impossible."""
    return min(MOST_PERCENT, max(1, round(100.0 * share)))
