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

from tests.faults.rows import ROWS, Form


def main() -> int:
    """Run the rows and print one line for each."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("--long", action="store_true", help="the full form, about a quarter of an hour")
    parser.add_argument("rows", nargs="*", help="names of rows; all when none is given")
    given = parser.parse_args()
    chosen = [row for row in ROWS if not given.rows or row.__name__ in given.rows]
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for function in chosen:
            started = time.monotonic()
            row = asyncio.run(function(Form(given.long, Path(folder))))  # type: ignore[arg-type]
            failed += not row.passed
            verdict = "pass" if row.passed else "FAIL"
            print(f"{verdict}  {row.name}: {row.figures}  [{time.monotonic() - started:.0f} s]", flush=True)
    return 1 if failed or not chosen else 0


if __name__ == "__main__":
    sys.exit(main())
