"""What a proven cause is repaired with."""

from __future__ import annotations

from functools import cache

from service.knowledge.catalogues import causes


@cache
def parts_of(cause: str) -> frozenset[str]:
    """Codes of the parts that the repair of a cause may need; none where it takes none."""
    return frozenset(causes()[cause].parts)
