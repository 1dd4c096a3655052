"""Which readings the repair has overtaken: taken before it was finished, they tell of a unit that is no more."""

from service.results.declare import declared_members
from service.results.finding import Assumption
from service.results.pointers import present_pointers
from service.results.record import replace
from service.results.visit import Visit

READ_AT = "read_at"


def dated_parts() -> tuple[str, ...]:
    """Names of the parts of the document that say when they were read."""
    return tuple(
        name
        for name, declared in declared_members(Visit)
        if declared.kind == "part"
        and any(inner == READ_AT and item.kind == "date_time" for inner, item in declared_members(declared.part))  # type: ignore[arg-type]
    )


def stale_parts(visit: Visit) -> tuple[str, ...]:
    """Names of the parts that were read before `repaired_at`; none where no repair is told of.

    Both moments are in UTC and of one form, so the texts compare as the moments do. A reading of the same moment
    as the repair's end is fresh.
    """
    repaired = visit.repaired_at
    if repaired is None:
        return ()
    moments = ((name, getattr(visit, name).read_at) for name in dated_parts())
    return tuple(name for name, moment in moments if moment is not None and moment < repaired)


def undated_parts(visit: Visit) -> tuple[str, ...]:
    """Names of the parts with readings of which nobody can tell whether they were taken after the repair."""
    if visit.repaired_at is None:
        return ()
    return tuple(
        name
        for name in dated_parts()
        if getattr(visit, name).read_at is None and present_pointers(getattr(visit, name))
    )


def stale_pointers(visit: Visit) -> frozenset[str]:
    """Pointers of every reading that the repair has overtaken, of the parts and lists they stand in too."""
    stale = tuple(f"/{name}" for name in stale_parts(visit))
    inside = tuple(f"{part}/" for part in stale)
    told = frozenset(f"{part}/{READ_AT}" for part in stale)
    return frozenset(item for item in present_pointers(visit) if item in stale or item.startswith(inside)) - told


def fresh(visit: Visit) -> Visit:
    """The visit without the readings that the repair has overtaken; the same visit where there are none."""
    empty = {name: type(getattr(visit, name))() for name in stale_parts(visit)}
    return replace(visit, **empty) if empty else visit


def repair_assumptions(visit: Visit) -> tuple[Assumption, ...]:
    """What is taken for granted of the moments: which parts are overtaken, and which nobody has dated."""
    return (
        *(Assumption("assumption.read-before-repair", f"/{name}/{READ_AT}") for name in stale_parts(visit)),
        *(Assumption("assumption.read-after-repair", f"/{name}/{READ_AT}") for name in undated_parts(visit)),
    )
