"""Refrigerants whose supply or new equipment a federal rule (United States) has ended, from data/phase_outs."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.knowledge.rows import by_code, check_basis


@dataclass(frozen=True, slots=True)
class PhaseOut:
    """What a rule ended and since when; alone: a reason by itself to weigh a new unit."""

    code: str
    refrigerants: tuple[str, ...]
    potential_from: float | None
    from_date: str
    alone: bool
    source: str

    def covers(self, refrigerant: Refrigerant) -> bool:
        """True for a refrigerant that the rule names, or whose global warming potential (AR4) it begins below."""
        if self.potential_from is not None:
            return refrigerant.gwp_ar4 >= self.potential_from
        return refrigerant.designation in self.refrigerants


def phased_out(name: str, on: str | None) -> PhaseOut | None:
    """The rule that has ended a refrigerant's supply or its new equipment, or None.

    name: in any common spelling. on: date [ISO 8601] of the visit; a rule that starts later is not told. None:
    every rule is told, with its date.
    """
    try:
        refrigerant = find(name)
    except UnknownRefrigerant:
        return None
    covering = (row for row in phase_outs() if row.covers(refrigerant))
    return next((row for row in covering if on is None or on >= row.from_date), None)


@cache
def phase_outs() -> tuple[PhaseOut, ...]:
    """Every rule, in the order of the file."""
    found = by_code(
        "phase_outs",
        refrigerants=False,
        potential_from=False,
        from_date=True,
        alone=True,
        basis=True,
        source=True,
        since=True,
    )
    return tuple(_phase_out(row) for row in found.values())


def _phase_out(row: dict[str, Any]) -> PhaseOut:
    check_basis(row, "phase_outs")
    potential = row.get("potential_from")
    return PhaseOut(
        row["code"],
        tuple(row.get("refrigerants") or ()),
        None if potential is None else float(potential),
        row["from_date"],
        bool(row["alone"]),
        row["source"],
    )
