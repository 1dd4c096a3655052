"""Reading data files: every row is checked when it is loaded, so a bad file stops the service at start."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from service.knowledge.row_files import rows_as_written, wrong
from service.knowledge.row_texts import without_texts
from service.knowledge.yaml_files import KnowledgeError

__all__ = ("BASES", "DECIDING", "KnowledgeError", "by_code", "check_basis", "rows")

BASES = frozenset(
    {"published", "restated", "common practice", "from memory", "circuit logic", "physics", "project choice"}
)
"""restated: read in two texts that do not quote one another."""
DECIDING = frozenset({"published", "restated", "circuit logic", "physics"})
"""Alone these may pass a matter of safety or condemn a compressor; a hold may rest on anything."""


def rows(kind: str) -> Iterator[dict[str, Any]]:
    """Rows of a kind in file and row order, without what they say (`row_texts`).

    Raises: KnowledgeError when a file is not a list of mappings.
    """
    return (without_texts(row) for row in rows_as_written(kind))


def by_code(kind: str, /, **keys: bool) -> dict[str, dict[str, Any]]:
    """Rows of a kind by their `code`; each keyword names a member and says whether it is required.

    Raises: KnowledgeError for an unknown or missing member, or a code given twice.
    """
    found: dict[str, dict[str, Any]] = {}
    for row in rows(kind):
        code = row.get("code")
        if not isinstance(code, str) or code in found:
            raise KnowledgeError(f"{kind}: code missing or given twice: {code!r}")
        _check_keys(row, keys)
        found[code] = row
    return found


def _check_keys(row: dict[str, Any], keys: dict[str, bool]) -> None:
    unknown = set(row) - set(keys) - {"code"}
    absent = {key for key, required in keys.items() if required and row.get(key) in (None, "")}
    if unknown:
        near = sorted(match for name in unknown for match in get_close_matches(name, keys, 1))
        raise wrong(row["code"], f"unknown {sorted(unknown)}" + (f"; near: {near}" if near else ""))
    if absent:
        raise wrong(row["code"], f"absent {sorted(absent)}")


def check_basis(row: dict[str, Any]) -> None:
    """A row must say on what it rests: a source, or the words common practice.

    Raises: KnowledgeError when neither a known basis nor a source is given.
    """
    basis = row.get("basis")
    if basis not in BASES:
        raise wrong(row["code"], f"basis {basis!r} is not one of {sorted(BASES)}")
    if basis in ("published", "restated", "from memory") and not row.get("source"):
        raise wrong(row["code"], f"{basis} without a source")
