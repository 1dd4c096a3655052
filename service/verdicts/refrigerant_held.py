"""Which refrigerant is in the unit, as far as the document says, and whether it can burn."""

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.results.visit import Visit


def refrigerant_held(visit: Visit) -> Refrigerant | None:
    """The refrigerant that is in the unit; None where none is named, or one that nobody knows."""
    name = visit.equipment.refrigerant_named
    try:
        return find(name) if name is not None else None
    except UnknownRefrigerant:
        return None


def is_flammable(visit: Visit) -> bool:
    """True where what is in the unit is known and burns."""
    held = refrigerant_held(visit)
    return held is not None and held.is_flammable


def may_be_flammable(visit: Visit) -> bool:
    """True unless what is in the unit is known and does not burn: nobody has read the nameplate yet."""
    held = refrigerant_held(visit)
    return held is None or held.is_flammable
