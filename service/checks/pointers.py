"""Evidence: JSON Pointers to members that are present in the visit document."""

from typing import Any

from service.results.declare import declared_members


def given(part: Any, base: str, names: tuple[str, ...] | None = None) -> tuple[str, ...]:
    """Pointers of the members of a document part that carry a value, in order of declaration.

    part: a dataclass of the visit document; base: its pointer; names: only these members.
    """
    wanted = names or tuple(name for name, _ in declared_members(type(part)))
    return tuple(f"{base}/{name}" for name in wanted if getattr(part, name) is not None)
