"""What the shape of a rising vacuum means."""

from service.knowledge.limits import limit
from service.physics.vacuum_rise import Rise

TAU_SEEN = 1.0  # a plateau is known when the readings cover one time constant or more; project choice


def call(rise: Rise, target: float, hold: float, ceiling: float) -> tuple[str, str]:
    """Name the shape: curve tight | leak | moisture | undecided, and why where undecided.

    target: vacuum to be held [Pa]; hold: how long [min]; ceiling: the highest pressure water could rise to [Pa].
    """
    if rise.last <= target:
        return _under_target(rise, target, hold)
    if rise.rate - rise.rate_decision <= 0.0:
        return "undecided", "flat-above-target" if _negligible(rise) else "shape-not-clear"
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


def _straight(rise: Rise, ceiling: float) -> bool:
    """No levelling-off that the readings allow could be water's: too slow to see, or ending above its pressure."""
    return rise.time_constant.low >= limit("procedures.straightness").value or rise.plateau_decision.low > ceiling
