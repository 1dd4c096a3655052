"""What the shape of a rising vacuum means."""

from math import inf

from service.knowledge.limits import limit
from service.physics.series import QUANTILE
from service.physics.vacuum_rise import FEWEST_SAMPLES, Rise, fit_rise
from service.procedures.series import Series

FLAT = 0.01  # of the highest reading; project choice
TAU_SEEN = 1.0  # a plateau is known when the readings cover one time constant or more; project choice


def fitted(stretch: Series) -> Rise | None:
    """Both shapes fitted to a vacuum's readings; None where there are too few to show a bend."""
    if len(stretch.places) < FEWEST_SAMPLES or not stretch.apart:
        return None
    return fit_rise(stretch.minutes, stretch.values, float(stretch.deviations.max()))


def pair_rate(stretch: Series) -> float:
    """Rise between the first and the last reading.

    Returns
    -------
    [Pa/min]

    References
    ----------
    Definition.
    """
    return float(stretch.values[-1] - stretch.values[0]) / stretch.duration


def call_two(stretch: Series, target: float, hold: float) -> tuple[str, str]:
    """What two readings can decide: that it holds, or that it does not; never why it does not.

    Parameters and answer as of `call`.
    """
    if not stretch.apart:
        return "undecided", "too-few-readings"
    rate = pair_rate(stretch)
    width = QUANTILE * float((stretch.deviations**2).sum() ** 0.5) / stretch.duration
    negligible = limit("procedures.negligible-vacuum-rise").value
    if rate + width < 0.0 and -rate > negligible:
        return "undecided", "falling"
    if stretch.values.max() > target:
        return "undecided", "rose-above-target" if rate - width > 0.0 else "flat-above-target"
    if rate + width >= negligible:
        return "undecided", "rising-under-target"
    return ("tight", "") if stretch.duration >= hold * (1.0 - 1e-9) else ("undecided", "too-short")


def call(rise: Rise, target: float, hold: float, ceiling: float) -> tuple[str, str]:
    """Name the shape: curve tight | leak | moisture | undecided, and why where undecided.

    target: vacuum to be held [Pa]; hold: how long [min]; ceiling: the highest pressure water could rise to [Pa].
    """
    if rise.trend < 0 and -rise.rate > limit("procedures.negligible-vacuum-rise").value:
        return "undecided", "falling"
    if max(rise.last, rise.highest) <= target:
        return _under_target(rise, target, hold)
    if rise.trend <= 0:
        return "undecided", "flat-above-target" if _negligible(rise) or _flat(rise) else "shape-not-clear"
    return _above_target(rise, target, ceiling)


def _above_target(rise: Rise, target: float, ceiling: float) -> tuple[str, str]:
    """Leak, moisture, or which of the two is still open."""
    if rise.steady_share > limit("procedures.steady-share").value:
        return "undecided", "both-shapes"
    if _straight(rise, ceiling):
        return "leak", ""
    if rise.time_constant.high > TAU_SEEN or rise.plateau_decision.low <= target:
        return "undecided", "shape-not-clear"
    return ("moisture", "") if rise.plateau_decision.low <= ceiling else ("undecided", "not-water")


def _under_target(rise: Rise, target: float, hold: float) -> tuple[str, str]:
    """Tight when it stays under the target for the hold and its rise is negligible or comes to an end there."""
    if not _negligible(rise) and rise.plateau_decision.high > target:
        return "undecided", "rising-under-target"
    return ("tight", "") if rise.duration >= hold * (1.0 - 1e-9) else ("undecided", "too-short")


def _negligible(rise: Rise) -> bool:
    """Whether the rise is surely slower than what oil gives off."""
    return rise.rate + rise.rate_decision < limit("procedures.negligible-vacuum-rise").value


def _flat(rise: Rise) -> bool:
    """Whether the readings went nowhere that would be worth a name."""
    return abs(rise.rate) * rise.duration < FLAT * rise.highest


def _straight(rise: Rise, ceiling: float) -> bool:
    """No levelling-off the readings allow could be water's: too slow to see, or endless above its pressure."""
    endless = rise.time_constant.high == inf and rise.plateau_decision.low > ceiling
    return endless or rise.time_constant.low >= limit("procedures.straightness").value
