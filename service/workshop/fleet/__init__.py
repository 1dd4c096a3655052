"""python -m service fleet judge | evaluate | learn: a fleet's own records.

judge     visit documents in files -> flat Parquet rows, in partitions, on one machine or on a Dask cluster
evaluate  judged rows with what was proven -> how right the service is on these units (JSON and one HTML page)
learn     judged rows with what was proven -> the fleet's own shares of causes, where they stand the test
"""

from __future__ import annotations

import argparse
import os
import sys
from importlib.util import find_spec

NEEDED = ("dask", "distributed", "pyarrow", "fsspec")
EXTRA = "pip install 'air-conditioner-diagnosis[fleet]'"


def main(arguments: list[str]) -> int:
    """Run one of the three; 0 when all went well, 1 when something could not be done, 2 for wrong usage."""
    lacking = [name for name in NEEDED if find_spec(name) is None]
    if lacking:
        print(f"fleet needs {', '.join(lacking)}: {EXTRA}", file=sys.stderr)
        return 1
    # A process judges on one core; threads of the linear algebra would only get in each other's way.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    parser = argparse.ArgumentParser(prog="python -m service fleet", description="A fleet's own records.")
    parser.add_argument("what", choices=("judge", "evaluate", "learn"))
    given, rest = parser.parse_known_args(arguments[:1])
    from service.workshop.fleet import commands

    return int(getattr(commands, given.what)([*rest, *arguments[1:]]))
