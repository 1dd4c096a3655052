"""What a proven cause is repaired with."""

from __future__ import annotations

from functools import cache

from service.knowledge.catalogues import causes, steps


@cache
def parts_of(cause: str) -> frozenset[str]:
    """Codes of the parts that the repair of a cause may need, those of its steps too; none where it takes none."""
    row = causes()[cause]
    return frozenset(row.parts).union(*(steps()[code].parts for code in row.repair))
