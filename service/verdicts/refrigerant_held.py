"""Which refrigerant is in the unit, as far as the document says, and whether it can burn."""

from collections.abc import Iterator
from contextlib import suppress

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
    """True where the refrigerant stated or the nameplate's burns: while they differ, either may be in it."""
    equipment = visit.equipment
    return any(known.is_flammable for known in _known(equipment.refrigerant, equipment.nameplate_refrigerant))


def _known(*names: str | None) -> Iterator[Refrigerant]:
    for name in names:
        with suppress(UnknownRefrigerant):
            if name is not None:
                yield find(name)


def may_be_flammable(visit: Visit) -> bool:
    """True unless what is in the unit is known and does not burn: nobody has read the nameplate yet."""
    return refrigerant_held(visit) is None or is_flammable(visit)
