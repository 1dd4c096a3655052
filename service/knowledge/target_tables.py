"""Published target tables, interpolated between their cells and refused where they are blank."""

from bisect import bisect_left, bisect_right
from functools import cache
from itertools import pairwise
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.finding import Bounds
from service.results.out_of_range import OutOfRange
from service.results.record import Record
from service.results.units import ZERO_CELSIUS

FAHRENHEIT = 5.0 / 9.0  # K a degree
ON_A_MARK = 1e-7  # [K] so near to a mark a temperature was written as that mark


class Blank(ValueError):
    """The table gives no target at these conditions."""


class TargetTable(Record):
    """A table of temperature differences over two temperatures.

    rows, columns: [K], rising; cells: [K] or None where the table is blank; basis and source as in the file.
    """

    code: str
    rows: tuple[float, ...]
    columns: tuple[float, ...]
    cells: tuple[tuple[float | None, ...], ...]
    basis: str
    source: str

    @property
    def cited(self) -> str:
        """The source as an answer prints it."""
        return self.source if self.basis == "published" else f"{self.source} ({self.basis})"

    def bounds(self, low: float | None, high: float | None) -> Bounds:
        """Bounds [K] that come from this table."""
        return Bounds("temperature_difference", "table", self.cited, low, high)

    def target(self, row: float, column: float) -> float:
        """The target [K] at two temperatures [K], linear between four cells.

        Raises: OutOfRange beyond the table's edges, Blank where a cell that counts is blank.
        """
        parts = [
            (row_share * column_share, self.cells[i][j])
            for i, row_share in _places("row temperature", row, self.rows)
            for j, column_share in _places("column temperature", column, self.columns)
        ]
        total = 0.0
        for share, cell in parts:
            if cell is None:
                raise Blank(f"{self.code} is blank at {row:g} K, {column:g} K")
            total += share * cell
        return total


def _places(quantity: str, at: float, marks: tuple[float, ...]) -> list[tuple[int, float]]:
    """Indices of the neighbouring marks with their shares; one alone on a mark.

    The tolerance keeps a temperature that was written as a mark on that mark after unit conversion.
    """
    near = bisect_left(marks, at - ON_A_MARK)
    if near < len(marks) and abs(at - marks[near]) < ON_A_MARK:
        return [(near, 1.0)]
    if not marks[0] < at < marks[-1]:
        raise OutOfRange(quantity, at, marks[0], marks[-1])
    upper = bisect_right(marks, at)
    share = (at - marks[upper - 1]) / (marks[upper] - marks[upper - 1])
    return [(upper - 1, 1.0 - share), (upper, share)]


@cache
def target_table(code: str) -> TargetTable:
    """The table of that code. Raises: KeyError, KnowledgeError for a file that breaks the rules."""
    found = by_code("target_tables", unit=True, basis=True, source=True, columns=True, rows=True)
    return table_of(found[code])


def table_of(row: dict[str, Any]) -> TargetTable:
    """A table from its row in the file.

    Raises: KnowledgeError where a line is too short, marks do not rise, or a line's origin is not the table's.
    """
    check_basis(row)
    columns = tuple(_kelvin(mark) for mark in row["columns"])
    rows = tuple(_kelvin(line["at"]) for line in row["rows"])
    wrong = [line["at"] for line in row["rows"] if len(line["cells"]) != len(columns)]
    strange = {line["origin"] for line in row["rows"]} - {row["basis"]}
    if wrong or strange or row["unit"] != "degF" or not _rising(rows) or not _rising(columns):
        raise KnowledgeError(f"target_tables: {row['code']}: bad lines {wrong}, origins {sorted(strange)}")
    cells = tuple(tuple(_difference(cell) for cell in line["cells"]) for line in row["rows"])
    return TargetTable(row["code"], rows, columns, cells, row["basis"], row["source"])


def _rising(marks: tuple[float, ...]) -> bool:
    return all(low < high for low, high in pairwise(marks))


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) * FAHRENHEIT + ZERO_CELSIUS


def _difference(fahrenheit: float | None) -> float | None:
    return None if fahrenheit is None else fahrenheit * FAHRENHEIT
