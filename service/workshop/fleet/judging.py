"""A partition in, one Parquet file out; what runs on a worker."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from functools import cache
from itertools import islice
from time import process_time
from typing import Any

import pyarrow as pa
from pyarrow import parquet

from service.knowledge.model_version import model_version
from service.library import assess_beside, digest_of_package, written_provenance
from service.results.record import Record
from service.workshop.fleet import files
from service.workshop.fleet.columns import Wanted, flat
from service.workshop.fleet.plan import Partition
from service.workshop.fleet.rows import rows_of

GROUP = 1000
"""Rows written together; memory holds so many flat rows and the compressed rest of the partition."""
LOT_SECONDS = 1.0
"""Nobody waits for a turn here, so lots are as large as they gain."""


class Done(Record):
    """A partition that was judged. seconds: of processor. wrong: why there is no file, None where there is."""

    partition: Partition
    rows: int = 0
    refused: int = 0
    seconds: float = 0.0
    wrong: str | None = None


@cache
def fleet_edition() -> dict[str, str]:
    """What judges the rows of a folder: the provenance of the answers, and the code that writes rows."""
    return written_provenance() | {"fleet": digest_of_package("service.workshop.fleet")}


def judge_partition(partition: Partition, out: str, wanted: Wanted, edition: dict[str, str]) -> Done:
    """Judge the rows of a partition and write their file, whole or not at all.

    edition: of whoever asks (`fleet_edition`). Where this process has another, it judges nothing: two editions in
    one folder would be nobody's judgement, and a cluster may gain a worker while a run goes on.
    """
    started = process_time()
    if edition != fleet_edition():
        return Done(partition, wrong=f"{partition.name}: a worker has another edition of this package")
    try:
        content, rows, refused = _judged(partition, wanted)
        files.write_whole(files.joined(out, partition.name), content)
    except (files.UnusableFile, OSError, pa.ArrowException) as error:
        return Done(partition, wrong=f"{partition.name} of {partition.file}: {error}")
    return Done(partition, rows, refused, process_time() - started)


def _judged(partition: Partition, wanted: Wanted) -> tuple[bytes, int, int]:
    """The bytes of the output file, how many rows it has, and how many of them were refused."""
    noted = {"provenance": json.dumps(written_provenance()), "model": model_version()}
    schema = wanted.schema().with_metadata(noted)
    written, rows, refused = io.BytesIO(), 0, 0
    with parquet.ParquetWriter(written, schema, compression="zstd") as writer:
        found = _flat_rows(partition, wanted)
        while group := list(islice(found, GROUP)):
            rows += len(group)
            refused += sum(row["status"] != 200 for row in group)
            writer.write_table(pa.Table.from_pylist(group, schema))
    return written.getvalue(), rows, refused


def _flat_rows(partition: Partition, wanted: Wanted) -> Iterator[dict[str, Any]]:
    rows = ((row, row.content) for row in rows_of(partition, wanted.visit, wanted.keep))
    for row, found in assess_beside(rows, most_seconds=LOT_SECONDS):
        yield flat(partition.file, row, found, wanted)
