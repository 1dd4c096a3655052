"""Limits of the trade: value, unit, source, edition, from the topics."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, get_args

from service.knowledge.limit_codes import LimitCode, TableCode
from service.knowledge.row_files import wrong
from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.finding import Bounds
from service.results.record import Record
from service.results.units import FIXED, KINDS, TABLE, Units, to_si

MOST_NAMED = 5  # codes in a message


class Limit(Record):
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
    """Every limit by code, those of tables too. Raises: KnowledgeError for one without a source or its words."""
    found: dict[str, Limit] = {}
    for code, row in file_rows().items():
        rows = limit_tables()[code].values() if "values" in row else (_limit(row),)
        found |= {each.code: each for each in rows}
    return found


@cache
def limit_tables() -> dict[str, dict[str, Limit]]:
    """Every table of limits by code: its rows by key. Raises: KnowledgeError as `all_limits`."""
    return {row["code"]: dict(_rows_of(row)) for row in file_rows().values() if "values" in row}


@cache
def file_rows() -> dict[str, dict[str, Any]]:
    """Every row of a limit, as it stands there. Raises: KnowledgeError where it has no value or two kinds."""
    found = by_code(
        "limits",
        value=False,
        values=False,
        unit=True,
        kind=True,
        basis=True,
        source=False,
        edition=False,
        address=False,
        note=False,
        since=False,
    )
    for code, row in found.items():
        if ("value" in row) is ("values" in row):
            raise wrong(code, "exactly one of value and values belongs here")
    return found


def _rows_of(table: dict[str, Any]) -> Iterator[tuple[str, Limit]]:
    """The rows of a table; a row that is a mapping says its own source or note."""
    values = table["values"]
    if not isinstance(values, dict) or not values:
        raise wrong(table["code"], "values are key: number")
    for key, given in values.items():
        own = given if isinstance(given, dict) else {"value": given}
        row = {**table, **own, "code": f"{table['code']}-{key}"}
        yield str(key), _limit(row)


def _limit(row: dict[str, Any]) -> Limit:
    check_basis(row)
    kind, unit = str(row["kind"]), str(row["unit"])
    if kind not in KINDS:
        raise wrong(row["code"], f"unknown kind {kind}")
    if isinstance(row["value"], bool) or not isinstance(row["value"], int | float):
        raise wrong(row["code"], f"{row['value']!r} is no number")
    source = ", ".join(str(row[key]) for key in ("source", "edition") if row.get(key))
    value = to_si(float(row["value"]), kind, _units(kind, unit), 0.0)
    return Limit(str(row["code"]), value, kind, str(row["basis"]), source)


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


def limit(code: LimitCode) -> Limit:
    """The limit of that code; the type checker knows the codes."""
    return all_limits()[code]


def limit_table(code: TableCode) -> Mapping[str, Limit]:
    """The rows of a table of limits by key; the type checker knows the tables."""
    return limit_tables()[code]


def require_known_codes() -> None:
    """The codes that the type checker knows are those of the rows.

    Raises: KnowledgeError that names what differs and the command that writes the codes anew.
    """
    rows = {code for code, row in file_rows().items() if "value" in row}
    strange = (rows ^ set(get_args(LimitCode))) | (set(limit_tables()) ^ set(get_args(TableCode)))
    if strange:
        named = ", ".join(sorted(strange)[:MOST_NAMED])
        raise KnowledgeError(
            f"service/knowledge/limit_codes.py: {named}: in a row of topics/ or in the list of codes, not in "
            "both; `python -m service spec` writes the list"
        )
