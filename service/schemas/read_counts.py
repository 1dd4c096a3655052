"""How much of what was posted an answer rests on."""

from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Any

from service.knowledge.taking import taking_of
from service.results.finding import Finding, State
from service.results.pointers import present_pointers
from service.results.visit import Visit
from service.schemas.reading_list import places

JUDGED = (State.PASS, State.FAIL, State.REVIEW)
READ = frozenset({"inspection", "isolation", "electrical", "standing", "start_up", "running", "air"})
"""The parts that hold readings; nameplate, site and complaint are told, not read."""
READ_AT = "read_at"


def read_counts(visit: Visit, findings: Iterable[Finding]) -> dict[str, Any]:
    """`posted`: readings in the document; `used`: those that a verdict names; `ignored`: pointers of the others.

    What only tells how a reading was taken (minutes of running, where the probes were) is used where a reading of
    its own part of the document is.
    """
    posted = _readings(visit)
    named = {pointer for finding in findings if finding.state in JUDGED for pointer in finding.evidence}
    used = {pointer for pointer in posted if _within(pointer, named)}
    parts = {_part(pointer) for pointer in used}
    used |= {pointer for pointer in posted if _is_condition(pointer) and _part(pointer) in parts}
    return {"posted": len(posted), "used": len(used), "ignored": [item for item in posted if item not in used]}


def _readings(visit: Visit) -> tuple[str, ...]:
    """Pointers of every reading, in the order of the document; not of the parts and lists that hold them."""
    found = present_pointers(visit)
    inner = {pointer.rpartition("/")[0] for pointer in found}
    leaves = (pointer for pointer in found if pointer not in inner and pointer.split("/")[1] in READ)
    return tuple(sorted((item for item in leaves if not _is_moment(item)), key=_order))


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


def _within(pointer: str, named: set[str]) -> bool:
    """Whether a verdict names a reading, or the object or item that it stands in."""
    while pointer:
        if pointer in named:
            return True
        pointer = pointer.rpartition("/")[0]
    return False


def _part(pointer: str) -> str:
    """The object or item that a reading stands in."""
    return pointer.rpartition("/")[0]


@cache
def _conditions() -> frozenset[str]:
    return frozenset(place.pointer for place in places() if taking_of(place.pointer).condition)


def _is_condition(pointer: str) -> bool:
    return _first_place(pointer) in _conditions()
