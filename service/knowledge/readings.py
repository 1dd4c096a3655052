"""Readings worth asking for, from data/readings: cost, power state and how telling each is."""

from dataclasses import dataclass
from functools import cache

from service.knowledge.rows import KnowledgeError, by_code


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """abnormal: chance of an abnormal reading under a cause; otherwise: under every other cause.

    brief: power is on for the seconds of a test, so a motor that stands still may have it.
    """

    code: str
    pointers: tuple[str, ...]
    minutes: float
    power: str
    feeds: tuple[str, ...]
    otherwise: float
    abnormal: dict[str, float]
    brief: bool = False


@cache
def reading_rows() -> dict[str, ReadingRow]:
    """Every row by code. Raises: KnowledgeError for a chance outside 0 to 1."""
    found = by_code(
        "readings",
        pointers=True,
        minutes=True,
        power=True,
        feeds=True,
        otherwise=True,
        abnormal=True,
        since=True,
        brief=False,
    )
    return {code: _row(row) for code, row in found.items()}


def _row(row: dict[str, object]) -> ReadingRow:
    abnormal = {str(key): float(value) for key, value in dict(row["abnormal"]).items()}  # type: ignore[call-overload]
    otherwise = float(str(row["otherwise"]))
    if not all(0.0 < chance < 1.0 for chance in (otherwise, *abnormal.values())):
        raise KnowledgeError(f"readings: {row['code']}: a chance must lie between 0 and 1")
    return ReadingRow(
        str(row["code"]),
        tuple(row["pointers"]),  # type: ignore[arg-type]
        float(str(row["minutes"])),
        str(row["power"]),
        tuple(row["feeds"]),  # type: ignore[arg-type]
        otherwise,
        abnormal,
        bool(row.get("brief")),
    )
