"""Judged rows beside what was proven: the truth that a fleet's own records hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pyarrow import parquet

from service.knowledge.catalogues import causes
from service.knowledge.model_version import model_version
from service.results.record import Record
from service.workshop.fleet import files
from service.workshop.fleet.files import UnusableFile

SOUND = "cause.none-found"
NO, YES = ("false", "no", "0"), ("true", "yes", "1")
READ = ("file", "row", "status", "month", "kind", "refrigerant", "efficiency_class", "symptoms")
SAID = ("outcome", "cause", "share", "causes", "parts")


class Labelled(Record):
    """A judged row and what was proven.

    truth: code of the cause that proved right, `cause.none-found` for a sound unit, None where nobody knows.
    inferred: whether that is said by nothing more than the absence of a callback. callback: whether the customer
    called again for the same complaint, None where not recorded.
    """

    row: dict[str, Any]
    truth: str | None
    inferred: bool = False
    callback: bool | None = None


@dataclass(slots=True)
class Reading:
    """What was met while reading: rows, how many were refused, and labels that are no cause of the catalogue."""

    rows: int = 0
    refused: int = 0
    strange: Counter[str] = field(default_factory=Counter)


def labelled(folder: str, truth: str, callback: str | None, reading: Reading) -> Iterator[Labelled]:
    """Every judged row of a folder, in order of files and rows; memory does not grow with their number.

    truth, callback: the owner's columns, kept by `fleet judge --keep`. A visit without a truth that brought no
    callback counts as sound: repairs alone would show a fleet in which every unit has a fault.
    Raises: UnusableFile where there are no judged rows, or they lack a column.
    """
    wanted = [*READ, *SAID, truth, *([callback] if callback else [])]
    for file in judged_files(folder):
        with files.open_file(file) as opened:
            judged = parquet.ParquetFile(opened)
            lacking = [name for name in wanted if name not in judged.schema_arrow.names]
            if lacking:
                raise UnusableFile(f"{file}: no column {', '.join(lacking)}; carry it along with --keep")
            for batch in judged.iter_batches(columns=wanted):
                for row in batch.to_pylist():
                    reading.rows += 1
                    if row["status"] == 200:
                        yield _label(row, truth, callback, reading)
                    else:
                        reading.refused += 1


def judged_files(folder: str) -> list[str]:
    """The files that `fleet judge` wrote into a folder."""
    return files.input_files(files.joined(files.whole_address(folder), "part-*.parquet"))


def require_shipped(folder: str) -> None:
    """See that rows were judged by this model and with shipped shares, so that what is learnt is not learnt twice.

    Raises: UnusableFile otherwise.
    """
    for file in judged_files(folder):
        with files.open_file(file) as opened:
            noted = parquet.ParquetFile(opened).schema_arrow.metadata or {}
        if noted.get(b"model", b"").decode() != model_version():
            raise UnusableFile(f"{file}: judged by another model; judge again, then learn")
        if noted.get(b"learnt"):
            raise UnusableFile(f"{file}: judged with shares of {noted[b'learnt'].decode()}; judge without them")


def _label(row: dict[str, Any], truth: str, callback: str | None, reading: Reading) -> Labelled:
    again = _yes_or_no(row[callback]) if callback is not None else None
    said = row[truth]
    if said is None:
        return Labelled(row, SOUND, True, again) if again is False else Labelled(row, None, False, again)
    code = said if said.startswith("cause.") else f"cause.{said}"
    if code in causes():
        return Labelled(row, code, False, again)
    reading.strange[said] += 1
    return Labelled(row, None, False, again)


def _yes_or_no(text: str | None) -> bool | None:
    word = (text or "").strip().lower()
    return True if word in YES else False if word in NO else None
