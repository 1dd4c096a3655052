"""Where kinds of unit stand beside the simulated split units, from data/cycle_kinds; `split`: any other kind.

A row `KIND/DESIGNATION` is for that refrigerant, the row `KIND` for all others.
"""

from functools import cache

from service.knowledge.rows import by_code, check_basis
from service.results.record import Record, names_of


class CycleKind(Record):
    """Evaporating temperature of sound units over that of the simulated ones, and condensing temperature likewise:
    mean and, beyond the simulated spread, standard deviation [K].
    """

    evaporating: float = 0.0
    spread: float = 0.0
    condensing: float = 0.0
    condensing_spread: float = 0.0


SPLIT = "split"


@cache
def cycle_kinds() -> dict[str, CycleKind]:
    """Kinds by the visit document's word. Raises: KnowledgeError: a bad row."""
    found = by_code(
        "cycle_kinds",
        basis=True,
        evaporating=False,
        spread=False,
        condensing=False,
        condensing_spread=False,
        source=False,
        note=False,
    )
    for row in found.values():
        check_basis(row)
    names = names_of(CycleKind)
    return {code: CycleKind(**{name: float(row.get(name, 0.0)) for name in names}) for code, row in found.items()}


@cache
def cycle_kind(unit: str | None, refrigerant: str) -> CycleKind:
    """The row of a kind of unit (None: not said, or not told apart) with a refrigerant, by its designation."""
    kind = unit if unit is not None else SPLIT
    return cycle_kinds().get(f"{kind}/{refrigerant}") or cycle_kinds()[kind]
