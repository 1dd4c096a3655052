"""Which rows are judged together: partitions of the input, each of which becomes one output file."""

from __future__ import annotations

from collections.abc import Iterator

import pyarrow as pa
from pyarrow import parquet

from service.results.record import Record
from service.workshop.fleet.files import UnusableFile, kind_of, open_file

ROWS = 10_000
"""Rows a partition: half a minute of one core, and some megabytes of output."""
BLOCK = 4 * 1024 * 1024


class Partition(Record):
    """Rows of one file.

    first: number of its first row, from 1. rows: how many, at most. start: where they begin in an NDJSON file
    [byte]; 0 in a Parquet file.
    """

    index: int
    file: str
    kind: str
    first: int
    rows: int
    start: int

    @property
    def name(self) -> str:
        """Name of the output file."""
        return f"part-{self.index:05d}.parquet"


def partitions(files: list[str], rows: int = ROWS) -> tuple[list[Partition], list[str]]:
    """The partitions of all files in order, and what was wrong with files that cannot be read at all."""
    found: list[Partition] = []
    wrong: list[str] = []
    for file in files:
        kind = kind_of(file) or ""
        try:
            for first, start in list(_starts(file, kind, rows)):
                found.append(Partition(len(found), file, kind, first, rows, start))
        except (UnusableFile, OSError) as error:
            wrong.append(str(error))
    return found, wrong


def _starts(file: str, kind: str, rows: int) -> Iterator[tuple[int, int]]:
    """Number of the first row of each partition, and the byte where it begins."""
    if kind == "parquet":
        yield from ((first, 0) for first in range(1, _parquet_rows(file) + 1, rows))
    else:
        yield from _ndjson_starts(file, rows)


def _parquet_rows(file: str) -> int:
    try:
        with open_file(file) as opened:
            return int(parquet.ParquetFile(opened).metadata.num_rows)
    except pa.ArrowInvalid as error:
        raise UnusableFile(f"{file}: no whole Parquet file ({error})") from None


def _ndjson_starts(file: str, rows: int) -> Iterator[tuple[int, int]]:
    """Lines are counted without looking into them; one pass over the file."""
    with open_file(file) as opened:
        line, base = 0, 0
        due = True  # the next line begins a partition
        while block := opened.read(BLOCK):
            if due:
                yield line + 1, base
                due = False
            at = -1
            while (at := block.find(b"\n", at + 1)) >= 0:
                line += 1
                if line % rows == 0:
                    if at + 1 < len(block):
                        yield line + 1, base + at + 1
                    else:
                        due = True
            base += len(block)
