"""How much of what was posted an answer rests on."""

from collections.abc import Collection
from functools import cache, lru_cache

from service.knowledge.taking import taking_of
from service.results.pointers import present_pointers
from service.results.provenance import Read
from service.results.visit import Visit
from service.schemas.reading_list import places

READ = frozenset({"inspection", "isolation", "electrical", "standing", "start_up", "running", "air"})
"""The parts that hold readings; nameplate, site and complaint are told, not read."""
READ_AT = "read_at"


def read_counts(visit: Visit, relied_on: Collection[str]) -> Read:
    """`posted`: readings in the document; `used`: those that the answer rests on; `ignored`: pointers of the rest.

    relied_on: pointers of readings, or of the objects and items that hold them. What only tells how a reading was
    taken (minutes of running, where the probes were) is used where a reading is that it tells of. Without the
    ignored ones every verdict, hold and cause would be the same.
    """
    posted = _readings(visit)
    used = {pointer for pointer in posted if _within(pointer, relied_on)}
    parts = {_part(pointer) for pointer in used}
    used |= {pointer for pointer in posted if pointer not in used and _tells_of_any(pointer, parts)}
    return Read(len(posted), len(used), tuple(item for item in posted if item not in used))


def _readings(visit: Visit) -> tuple[str, ...]:
    """Pointers of every reading, in the order of the document; not of the parts and lists that hold them."""
    found = present_pointers(visit)
    inner = {pointer.rpartition("/")[0] for pointer in found}
    leaves = (pointer for pointer in found if pointer not in inner and _may_be_read(pointer))
    return tuple(sorted((item for item in leaves if not _is_moment(item)), key=_order))


def _may_be_read(pointer: str) -> bool:
    """Whether it points into a part that holds readings, and not at an item that was posted empty."""
    tokens = pointer.split("/")
    return tokens[1] in READ and not tokens[-1].isdecimal()


def _is_moment(pointer: str) -> bool:
    return pointer.count("/") == 2 and pointer.endswith(f"/{READ_AT}")


def _order(pointer: str) -> tuple[int, str]:
    return _orders().get(_first_place(pointer), 0), pointer


@cache
def _orders() -> dict[str, int]:
    return {place.pointer: number for number, place in enumerate(places())}


@lru_cache(maxsize=4096)
def _first_place(pointer: str) -> str:
    """The pointer as the list of readings has it: of the first item, whichever it points into."""
    return "/".join("0" if token.isdecimal() else token for token in pointer.split("/"))


def _within(pointer: str, named: Collection[str]) -> bool:
    """Whether the answer rests on a reading, or on the object or item that it stands in."""
    while pointer:
        if pointer in named:
            return True
        pointer = pointer.rpartition("/")[0]
    return False


def _part(pointer: str) -> str:
    """The object or item that a reading stands in."""
    return pointer.rpartition("/")[0]


def _tells_of_any(pointer: str, parts: Collection[str]) -> bool:
    """Whether a member only tells how the readings of one of the parts were taken."""
    return any(part == place or part.startswith(f"{place}/") for place in _told(pointer) for part in parts)


@lru_cache(maxsize=4096)
def _told(pointer: str) -> tuple[str, ...]:
    """Parts that a member tells of; none where it is a reading itself."""
    row = taking_of(_first_place(pointer))
    if not row.condition:
        return ()
    return row.tells_of or (_part(pointer),)
