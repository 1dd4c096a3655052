"""Limits of the trade: value, unit, source, edition, from the files in data/limits."""

from dataclasses import dataclass
from functools import cache

from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.finding import Bounds
from service.results.units import FIXED, KINDS, TABLE, Units, to_si


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit in SI of its kind, and who says so."""

    code: str
    value: float
    kind: str
    basis: str
    source: str

    @property
    def cited(self) -> str:
        """The source as an answer prints it; a value from memory or without a source says so."""
        if self.basis in ("published", "restated"):
            return self.source
        label = "common practice, no source" if self.basis == "common practice" else self.basis
        return f"{self.source} ({self.basis})" if self.source else label

    @property
    def origin(self) -> str:
        """table for a published value, default for any other."""
        return "table" if self.basis in ("published", "restated") else "default"

    def bounds(self, low: float | None = None, high: float | None = None, kind: str | None = None) -> Bounds:
        """Bounds in SI that this limit's source stands for."""
        return Bounds(kind or self.kind, self.origin, self.cited, low, high)

    def as_low(self) -> Bounds:
        """This value as the lower bound."""
        return self.bounds(low=self.value)

    def as_high(self) -> Bounds:
        """This value as the upper bound."""
        return self.bounds(high=self.value)


@cache
def all_limits() -> dict[str, Limit]:
    """Every limit by code. Raises: KnowledgeError for one without a source or the words common practice."""
    found = by_code(
        "limits",
        value=True,
        unit=True,
        kind=True,
        basis=True,
        source=False,
        edition=False,
        address=False,
        note=False,
        since=False,
    )
    return {code: _limit(row) for code, row in found.items()}


def _limit(row: dict[str, object]) -> Limit:
    check_basis(row, "limits")
    kind, unit = str(row["kind"]), str(row["unit"])
    if kind not in KINDS:
        raise KnowledgeError(f"limits: {row['code']}: unknown kind {kind}")
    source = ", ".join(str(row[key]) for key in ("source", "edition") if row.get(key))
    value = float(str(row["value"]))
    return Limit(str(row["code"]), to_si(value, kind, _units(kind, unit), 0.0), kind, str(row["basis"]), source)


def _units(kind: str, unit: str) -> Units:
    if kind in FIXED:
        if unit != FIXED[kind][0]:
            raise KnowledgeError(f"limits: {kind} is written in {FIXED[kind][0]}, not {unit}")
        return Units()
    for base, table in TABLE.items():
        candidate = Units(**{base: unit})
        if unit in table and candidate.code(kind) == unit:
            return candidate
    raise KnowledgeError(f"limits: {unit} is no unit of {kind}")


def limit(code: str) -> Limit:
    """The limit of that code. Raises: KeyError when no file has it (a test reads every use in the code)."""
    return all_limits()[code]
