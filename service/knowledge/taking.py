"""How each member of the visit document is taken, from data/taking: instrument, power, typical minutes."""

from fnmatch import fnmatchcase
from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code
from service.results.record import Record

POWERS = ("off", "on", "either")


class TakingRow(Record):
    """patterns: pointers of the members, `*` for one name; minutes: typical [min]; instrument: code of a tool.

    ask: it is asked or looked up rather than measured. condition: it tells how the readings beside it were taken.
    tells_of: pointers of the parts that it tells of, where they are not the one that it stands in.
    """

    code: str
    patterns: tuple[str, ...]
    power: str
    minutes: float
    instrument: str | None
    ask: bool
    condition: bool
    since: str
    tells_of: tuple[str, ...] = ()


@cache
def taking_rows() -> dict[str, TakingRow]:
    """Every row by code. Raises: KnowledgeError for an unknown power state."""
    optional = dict.fromkeys(("instrument", "ask", "condition", "tells_of"), False)
    found = by_code("taking", patterns=True, power=True, minutes=True, since=True, **optional)
    return {code: _row(row) for code, row in found.items()}


def _row(row: dict[str, Any]) -> TakingRow:
    if row["power"] not in POWERS:
        raise KnowledgeError(f"taking: {row['code']}: power {row['power']!r}")
    return TakingRow(
        row["code"],
        tuple(row["patterns"]),
        row["power"],
        float(row["minutes"]),
        row.get("instrument"),
        bool(row.get("ask")),
        bool(row.get("condition")),
        str(row["since"]),
        tuple(row.get("tells_of") or ()),
    )


@cache
def _by_depth() -> dict[int, list[tuple[str, TakingRow]]]:
    """Patterns with their rows, by how many members deep they point."""
    found: dict[int, list[tuple[str, TakingRow]]] = {}
    for row in taking_rows().values():
        for pattern in row.patterns:
            found.setdefault(pattern.count("/"), []).append((pattern, row))
    return found


@cache
def taking_of(pointer: str) -> TakingRow:
    """The row of a member. Raises: KnowledgeError where none or several claim it."""
    claiming = [row for pattern, row in _by_depth().get(pointer.count("/"), ()) if fnmatchcase(pointer, pattern)]
    found = list({row.code: row for row in claiming}.values())
    if len(found) != 1:
        said = ", ".join(row.code for row in found) or "no row"
        raise KnowledgeError(
            f"taking: {pointer}: {said} in service/knowledge/data/taking; exactly one must claim it"
        )
    return found[0]
