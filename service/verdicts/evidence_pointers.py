"""Evidence: JSON Pointers to members that are present in the visit document."""

from collections.abc import Callable
from functools import lru_cache
from operator import attrgetter
from typing import Any

from service.results.declare import declared_members


def given(part: Any, base: str, names: tuple[str, ...] | None = None) -> tuple[str, ...]:
    """Pointers of the members of a document part that carry a value, in order of declaration.

    part: a record of the visit document; base: its pointer; names: only these members.
    """
    pointers, read = _members(part.__class__, base, names)
    return tuple([pointer for pointer, value in zip(pointers, read(part), strict=True) if value is not None])


@lru_cache(maxsize=1024)
def _members(
    of: type, base: str, names: tuple[str, ...] | None
) -> tuple[tuple[str, ...], Callable[[Any], tuple[Any, ...]]]:
    """Pointers of the members, and what reads them all."""
    wanted = names or tuple(name for name, _ in declared_members(of))
    read = attrgetter(*wanted)
    return tuple(f"{base}/{name}" for name in wanted), read if len(wanted) > 1 else lambda part: (read(part),)
