"""Tables of the repair procedures: tube sizes and test gases."""

import re
from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.record import Record
from service.results.units import INCH

SIZE_TOLERANCE = 0.005  # a metric label of an inch size (9.52 mm) is the same tube


class TubeSize(Record):
    """outside_diameter and wall [m], temper annealed_coil or drawn."""

    temper: str
    outside_diameter: float
    wall: float
    source: str


class PressureTestGas(Record):
    """accepted for a pressure test, or explosive with oil or by itself."""

    code: str
    accepted: bool
    explosive: bool


def _rows(folder: str, **keys: bool) -> list[dict[str, Any]]:
    found = by_code(folder, basis=True, source=False, **keys)
    for row in found.values():
        check_basis(row)
    return list(found.values())


@cache
def tube_sizes() -> tuple[TubeSize, ...]:
    """Every tube size, by temper and size."""
    rows = _rows("tube_sizes", temper=True, outside_diameter=True, wall=True)
    return tuple(
        TubeSize(row["temper"], row["outside_diameter"] * INCH, row["wall"] * INCH, row["source"]) for row in rows
    )


def tube_size(temper: str, outside_diameter: float) -> TubeSize | None:
    """The standard tube of that outside diameter [m]; None when the standard has no such size."""
    for size in tube_sizes():
        if size.temper == temper and abs(outside_diameter / size.outside_diameter - 1.0) <= SIZE_TOLERANCE:
            return size
    return None


@cache
def _test_gases() -> dict[str, PressureTestGas]:
    found: dict[str, PressureTestGas] = {}
    for row in _rows("test_gases", accepted=True, explosive=True, spellings=True):
        gas = PressureTestGas(row["code"], bool(row["accepted"]), bool(row["explosive"]))
        for spelling in row["spellings"]:
            if found.setdefault(spelling, gas) is not gas:
                raise KnowledgeError(f"test_gases: {spelling} names two gases")
    return found


def pressure_test_gas(name: str) -> PressureTestGas | None:
    """The gas of that name in any listed spelling; None when it is not listed."""
    return _test_gases().get(re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip())
