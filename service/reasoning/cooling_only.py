"""Units that only cool have no reversing valve."""

from service.results.visit import Visit

COOLING_ONLY = ("split_air_conditioner", "packaged_air_conditioner")


def is_cooling_only(visit: Visit) -> bool:
    """True where the unit is known to have no reversing valve."""
    return visit.equipment.kind in COOLING_ONLY
