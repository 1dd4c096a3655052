"""python -m tests.faults [--long] [ROW ...]: what the service survives, with figures; exits 1 if a row fails.

Everything runs against this machine's own address, in a bounded number of requests and a bounded time.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
import tempfile
import time
from pathlib import Path

from tests.faults.one_bad_client import ONE_BAD_CLIENT
from tests.faults.rows import ROWS, Form
from tests.faults.starting import STARTING


def main() -> int:
    """Run the rows and print one line for each."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("--long", action="store_true", help="the full form, about a quarter of an hour")
    rows = {row.__name__: row for row in (*ROWS, *STARTING, *ONE_BAD_CLIENT)}
    parser.add_argument("rows", nargs="*", metavar="ROW", help=f"all when none is given: {', '.join(rows)}")
    given = parser.parse_args()
    if unknown := set(given.rows) - set(rows):
        parser.error(f"no such row: {', '.join(sorted(unknown))}")
    chosen = [rows[name] for name in given.rows or rows]
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for function in chosen:
            started = time.monotonic()
            row = asyncio.run(function(Form(given.long, Path(folder))))  # type: ignore[arg-type]
            failed += not row.passed
            verdict = "pass" if row.passed else "FAIL"
            print(f"{verdict}  {row.name}: {row.figures}  [{time.monotonic() - started:.0f} s]", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
