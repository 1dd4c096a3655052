"""Do two documents speak of one unit? A repair is proven on the unit that was repaired, not on its neighbour."""

from service.knowledge.refrigerants import find
from service.results.visit import Visit
from service.verdicts.refrigerant_held import refrigerant_held

# What no repair changes. A new compressor or motor has its own plate, and capacity is often told roughly.
OF_THE_UNIT = ("kind", "serial", "phases", "nominal_voltage")


def unlike(before: Visit, after: Visit) -> tuple[str, ...]:
    """Pointers, into /before and /after, of what the two say otherwise of the unit; a conversion whose nameplate
    is named beside it is none.

    Source: circuit logic.
    """
    both = [(name, getattr(before.equipment, name), getattr(after.equipment, name)) for name in OF_THE_UNIT]
    names = [name for name, then, now in both if None not in (then, now) and then != now]
    if _holds_another(before, after):
        names.append("refrigerant")
    return tuple(f"/{visit}/equipment/{name}" for name in names for visit in ("before", "after"))


def _holds_another(before: Visit, after: Visit) -> bool:
    held, holds, nameplate = (
        refrigerant_held(before),
        refrigerant_held(after),
        after.equipment.nameplate_refrigerant,
    )
    if held is None or holds is None or held == holds:
        return False
    return nameplate is None or find(nameplate) == holds
