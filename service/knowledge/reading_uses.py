"""Which findings rest on which member, from data/reading_uses, which `python -m service spec` writes.

The file is made from what the checks really name as evidence over all golden cases and samples, so that nobody has
to say again what the code says already.
"""

from functools import cache

from service.knowledge.rows import by_code


@cache
def _uses() -> dict[str, tuple[str, ...]]:
    found = by_code("reading_uses", findings=True)
    return {pointer: tuple(row["findings"]) for pointer, row in found.items()}


def findings_of(pointer: str) -> tuple[str, ...]:
    """Codes of the findings that rest on a member; a member of a list stands under its first place."""
    return _uses().get(pointer, ())
