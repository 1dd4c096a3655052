"""How the shape of what is written elsewhere declares a member."""

from typing import Any

from service.results.declare import member


def always(kind: str, description: str, **details: Any) -> Any:
    """A member that every answer has."""
    return member(kind, description, required=True, **details)
