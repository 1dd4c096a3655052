"""What a standing pressure is over the saturation pressure of the coil where its liquid lies."""

from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.results.visit import Visit

# Up to this difference [K] a standing pressure counts as that of liquid at a coil; project choice, as far as an
# ordinary thermometer and gauge err together.
AT_A_COIL = 2.0


def standing_excess(visit: Visit, refrigerant: Refrigerant) -> float | None:
    """Bubble temperature of the standing pressure over the coil where its liquid lies [K]; None where untold.

    The pressure follows the colder of the two coils in the end and lies between them on the way there. Foreign gas
    shows above the warmer one, its absence at the colder one. Between them a sound unit reads so, and a unit with
    foreign gas as well. Where only the outdoor temperature was read, its liquid is taken to lie there.
    """
    standing = visit.standing
    if standing.pressure is None or standing.ambient_temperature is None:
        return None
    if standing.minutes_off is not None and standing.minutes_off < limit("standing.least-minutes-off").value:
        return None
    read = refrigerant.saturation.bubble_temperature(standing.pressure)
    over_outdoor = read - standing.ambient_temperature
    if standing.indoor_temperature is not None:
        over_indoor = read - standing.indoor_temperature
        return _at_one_coil(max(over_outdoor, over_indoor), min(over_outdoor, over_indoor))
    return over_outdoor if over_outdoor > -AT_A_COIL or not _cooler_indoors(visit) else None


def _at_one_coil(over_colder: float, over_warmer: float) -> float | None:
    """What a standing pressure is over the coil that its liquid must lie at [K]; None between two coils."""
    if over_warmer >= 0.0 or over_colder - over_warmer <= AT_A_COIL:
        return over_warmer
    return over_colder if over_colder <= AT_A_COIL else None


def _cooler_indoors(visit: Visit) -> bool:
    back, outdoor = visit.air.return_dry_bulb, visit.standing.ambient_temperature
    return back is not None and outdoor is not None and back < outdoor
