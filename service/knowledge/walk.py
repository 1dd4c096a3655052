"""What the walk in the terminal asks, and where a reading commonly lies (data/walk, data/usual_readings)."""

from functools import cache

from service.knowledge.rows import by_code
from service.results.record import Record
from service.results.units import Units, to_si


class WalkRow(Record):
    """asks: pointers of a request asked first; list_name: its list of readings; items: members of each item.

    units: what the trade weighs it in, where that is not the contract's usual unit.
    """

    asks: tuple[str, ...]
    list_name: str | None
    items: tuple[str, ...]
    units: dict[str, str]


@cache
def walk_rows() -> dict[str, WalkRow]:
    """Rows by procedure, or by the pointer of a list of the visit. Raises: KnowledgeError."""
    found = by_code("walk", asks=False, items=False, list=False, units=False)
    return {
        code: WalkRow(
            tuple(row.get("asks") or ()),
            row.get("list"),
            tuple(row.get("items") or ()),
            dict(row.get("units") or {}),
        )
        for code, row in found.items()
    }


@cache
def usual_ranges() -> dict[str, tuple[float, float]]:
    """Low and high in SI by JSON Pointer. Raises: KnowledgeError."""
    found = by_code("usual_readings", unit=True, kind=True, low=False, high=False)
    return {
        pointer: (_si(row["low"], row["kind"], row["unit"]), _si(row["high"], row["kind"], row["unit"]))
        for pointer, row in found.items()
    }


def _si(value: float, kind: str, unit: str) -> float:
    chosen_by = "temperature" if kind.startswith("temperature") else kind
    return to_si(float(value), kind, Units(**{chosen_by: unit}), 0.0)
