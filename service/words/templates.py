"""Templates of the locale files, taken apart once: text, and the names that stand in braces."""

from functools import lru_cache
from string import Formatter

Piece = tuple[str, str | None]


@lru_cache(maxsize=8192)
def pieces(template: str) -> tuple[Piece, ...]:
    """Text and the name of the value that follows it, None at the end. Names are bare: no format, no attribute."""
    return tuple((text, name) for text, name, _, _ in Formatter().parse(template))
