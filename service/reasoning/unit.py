"""What kind of unit it is, as far as the document says: what it has, and how its motor is fed."""

from service.knowledge.catalogues import PartRow
from service.knowledge.kinds import kind_row
from service.results.visit import Visit

HEAT_PUMP = "heat_pump"


def is_cooling_only(visit: Visit) -> bool:
    """True where the unit is known to have no reversing valve."""
    return kind_row(visit.equipment.kind).cools_only


def has(visit: Visit, unit: str) -> bool:
    """Whether the unit may be of a kind (`heat_pump`, or empty for any)."""
    return unit != HEAT_PUMP or not is_cooling_only(visit)


def has_part(visit: Visit, part: PartRow) -> bool:
    """Whether the unit may have a part, by its kind and by how its motor is fed."""
    by_kind = has(visit, part.unit) and part.code not in kind_row(visit.equipment.kind).lacks_parts
    return by_kind and (not part.drives or motor_feed(visit) in part.drives)


def motor_feed(visit: Visit) -> str:
    """How the compressor motor is fed; single-phase where nothing says otherwise and phases are not 3."""
    drive = visit.equipment.compressor.drive
    if drive is not None:
        return drive
    return "three_phase" if visit.equipment.phases == 3 else "single_phase"
