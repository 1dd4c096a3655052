"""Where kinds of unit stand beside the simulated split units, from data/cycle_kinds; `split`: any other kind."""

from dataclasses import dataclass
from functools import cache

from service.knowledge.rows import by_code, check_basis


@dataclass(frozen=True, slots=True)
class CycleKind:
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
        check_basis(row, "cycle_kinds")
    names = CycleKind.__slots__
    return {code: CycleKind(**{name: float(row.get(name, 0.0)) for name in names}) for code, row in found.items()}
