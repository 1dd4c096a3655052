"""The rows of a partition: a visit document each, or why there is none, and the columns that stand beside it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from pyarrow import parquet

from service.results.record import Record, field
from service.results.refusal import FieldError
from service.wire.batch_lines import read_line
from service.wire.problems import ProblemError
from service.workshop.fleet.files import UnusableFile, open_file
from service.workshop.fleet.plan import Partition

BATCH = 256


class Row(Record):
    """number: in its file, from 1. content: the visit document, None where it cannot be read (`problem` says why).
    beside: the owner's own columns that were asked for, as text.
    """

    number: int
    content: dict[str, Any] | None
    problem: ProblemError | None = None
    beside: dict[str, str] = field(default_factory=dict)


def rows_of(partition: Partition, visit: str, keep: tuple[str, ...]) -> Iterator[Row]:
    """Read a partition.

    visit: name of the column, or of the member of a line, that holds the visit document; an NDJSON line without
    such a member is itself the document. keep: names of columns to carry along.
    """
    return _parquet(partition, visit, keep) if partition.kind == "parquet" else _ndjson(partition, visit, keep)


def _ndjson(partition: Partition, visit: str, keep: tuple[str, ...]) -> Iterator[Row]:
    with open_file(partition.file) as opened:
        opened.seek(partition.start)
        for number in range(partition.first, partition.first + partition.rows):
            line = opened.readline()
            if not line:
                return
            if line.strip():
                yield _of_line(number, line, visit, keep)


def _of_line(number: int, line: bytes, visit: str, keep: tuple[str, ...]) -> Row:
    try:
        content = read_line(line)
    except ProblemError as problem:
        return Row(number, None, problem)
    if visit not in content:
        return Row(number, content)
    beside = {name: _text(content[name]) for name in keep if content.get(name) is not None}
    inner = content[visit]
    if isinstance(inner, dict):
        return Row(number, inner, beside=beside)
    return Row(number, None, _no_document(visit), beside)


def _parquet(partition: Partition, visit: str, keep: tuple[str, ...]) -> Iterator[Row]:
    """Only the row groups that hold some of the rows, and only the columns that are used, are read."""
    with open_file(partition.file) as opened:
        file = parquet.ParquetFile(opened)
        names = set(file.schema_arrow.names)
        if visit not in names:
            raise UnusableFile(f"{partition.file}: no column {visit}; it has {', '.join(sorted(names))}")
        kept = [name for name in keep if name in names]
        groups, skipped = _groups(file, partition)
        last = partition.first + partition.rows - 1
        number = skipped
        for batch in file.iter_batches(BATCH, row_groups=groups, columns=[visit, *kept]):
            for values in batch.to_pylist():
                number += 1
                if partition.first <= number <= last:
                    beside = {name: _text(values[name]) for name in kept if values[name] is not None}
                    yield _of_value(number, values[visit], visit, beside)


def _groups(file: parquet.ParquetFile, partition: Partition) -> tuple[list[int], int]:
    """Row groups that hold rows of the partition, and how many rows stand before the first of them."""
    found: list[int] = []
    before, skipped = 0, 0
    for group in range(file.metadata.num_row_groups):
        after = before + file.metadata.row_group(group).num_rows
        if after >= partition.first and before < partition.first - 1 + partition.rows:
            skipped = skipped if found else before
            found.append(group)
        before = after
    return found, skipped


def _of_value(number: int, value: Any, visit: str, beside: dict[str, str]) -> Row:
    raw = value.encode("utf-8", "surrogateescape") if isinstance(value, str) else value
    if not isinstance(raw, bytes):
        return Row(number, None, _no_document(visit), beside)
    try:
        return Row(number, read_line(raw), beside=beside)
    except ProblemError as problem:
        return Row(number, None, problem, beside)


def _no_document(visit: str) -> ProblemError:
    error = FieldError("", "document.not-an-object", f"A visit document belongs in {visit}.", ("object",))
    return ProblemError("request.not-valid", errors=(error,))


def _text(value: Any) -> str:
    """A value of the owner's as text: words as they are, everything else as JSON."""
    return value if isinstance(value, str) else json.dumps(value, default=str)
