"""Cost, ordinary accuracy and chances of the readings of the cycle model, from data/cycle_readings."""

from functools import cache
from typing import Any

from service.knowledge.cycle_model import CLASSES
from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.physics.cycle.readings import READINGS
from service.results.record import Record


class CycleReadingRow(Record):
    """minutes at the unit; half_width: ordinary 95 % half-width [K, or 1; of the reading where relative];
    between_units: how far sound units spread beyond the simulated ones, as a standard deviation [K, or 1]; least:
    what the quantity itself cannot be below, None where there is no such end; most: beyond it the largest
    simulated fault is meant; astray: its own chance of being plainly wrong, None: that of any reading."""

    minutes: float
    half_width: float
    between_units: float
    relative: bool
    together: str
    least: float | None
    most: float | None
    astray: float | None


class Astray(Record):
    """Readings that are plainly wrong: their chance, the half-widths they spread over, and the chance from which
    one is left out.
    """

    chance: float
    span: float
    left_out: float


class CycleReadingTable(Record):
    """Rows by reading; chances of an event by class; least bits, and bits per minute, worth taking."""

    rows: dict[str, CycleReadingRow]
    chances: dict[str, tuple[float, ...]]
    least_bits: float
    least_bits_per_minute: float
    astray: Astray


@cache
def cycle_readings() -> CycleReadingTable:
    """The table. Raises: KnowledgeError for a missing reading or a chance outside 0 to 1."""
    found = by_code(
        "cycle_readings",
        basis=True,
        together=False,
        minutes=False,
        half_width=False,
        between_units=False,
        relative=False,
        least=False,
        most=False,
        astray=False,
        chances=False,
        otherwise=False,
        threshold=False,
        note=False,
    )
    for row in found.values():
        check_basis(row)
    missing = set(READINGS) - set(found)
    if missing:
        raise KnowledgeError(f"cycle_readings: no row for {sorted(missing)}")
    rows = {code: _row(row) for code, row in found.items() if "threshold" not in row and "chances" not in row}
    chances = {code: _chances(code, row) for code, row in found.items() if "chances" in row}
    return CycleReadingTable(
        rows,
        chances,
        float(found["worthwhile_bits"]["threshold"]),
        float(found["worthwhile_bits_per_minute"]["threshold"]),
        Astray(*(float(found[f"astray_{name}"]["threshold"]) for name in ("chance", "span", "left_out"))),
    )


def _row(row: dict[str, Any]) -> CycleReadingRow:
    return CycleReadingRow(
        float(row.get("minutes", 0.0)),
        float(row.get("half_width", 0.0)),
        float(row.get("between_units", 0.0)),
        bool(row.get("relative", False)),
        str(row.get("together", "")),
        float(row["least"]) if "least" in row else None,
        float(row["most"]) if "most" in row else None,
        float(row["astray"]) if "astray" in row else None,
    )


def _chances(code: str, row: dict[str, Any]) -> tuple[float, ...]:
    values = tuple(float(row["chances"].get(name, row["otherwise"])) for name in CLASSES)
    if not all(0.0 < value < 1.0 for value in values):
        raise KnowledgeError(f"cycle_readings: {code}: a chance must lie between 0 and 1")
    return values
