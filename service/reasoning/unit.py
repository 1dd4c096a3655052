"""What kind of unit it is, as far as the document says: what it has, and how its motor is fed."""

from service.knowledge.catalogues import PartRow, StepRow
from service.knowledge.kinds import kind_row
from service.results.visit import Visit

HEAT_PUMP, SEALED = "heat_pump", "sealed"


def is_cooling_only(visit: Visit) -> bool:
    """True where the unit is known to have no reversing valve."""
    return kind_row(visit.equipment.kind).cools_only


def has(visit: Visit, unit: str) -> bool:
    """Whether the unit may be of a kind (`heat_pump`), is known to be of it (`sealed`), or empty for any."""
    if unit == SEALED:
        return kind_row(visit.equipment.kind).sealed
    return unit != HEAT_PUMP or not is_cooling_only(visit)


def fits_step(visit: Visit, row: StepRow) -> bool:
    """Whether the unit has what the step is about, and a place for the readings that the step is taken for."""
    kind = kind_row(visit.equipment.kind)
    if not kind.lacks or not row.yields:
        return has(visit, row.unit)
    readable = any(all(kind.has_reading(pointer) for pointer in group) for group in row.yields)
    return readable and has(visit, row.unit)


def tools_of(visit: Visit, row: StepRow) -> tuple[str, ...]:
    """Tools of a step that have something to measure on this kind of unit."""
    lacking = kind_row(visit.equipment.kind).lacks_tools
    return tuple([tool for tool in row.tools if tool not in lacking]) if lacking else row.tools


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
