"""Property-based requests to every operation by schemathesis, in as many processes as there are cores.

.venv/bin/python -m tests.hostile.operations [--examples 500] [--phases examples,fuzzing] [--only operationId]

Phases: examples (those of the contract), coverage (each member at and beyond each limit: about 60,000 requests),
fuzzing (--examples an operation). The time goes into making the requests, not into answering them, so each
process has its share of the operations and a server of its own with one worker. The exit status is 0 only without
a failure and only when every operation got its requests.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.contract.documents import operations
from tests.wire.serving import served

HERE = Path(__file__).parent
CONTRACT = HERE.parents[1] / "openapi" / "openapi.json"
PATIENT = {"WEB_CONCURRENCY": "1", "QUEUE_MILLISECONDS": "60000"}
SENT = re.compile(r"^\s*(\d+) generated", re.MULTILINE)


def main(arguments: list[str]) -> int:
    """Run schemathesis on all shares side by side; the exit status of the command."""
    parser = argparse.ArgumentParser(description="Property-based requests to every operation.")
    parser.add_argument("--examples", type=int, default=500, help="requests an operation, 500 by default")
    parser.add_argument("--phases", default="examples,fuzzing")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="one operation, by its operationId")
    given = parser.parse_args(arguments)
    names = [operation["operationId"] for _, _, operation in operations()]
    chosen = [name for name in names if given.only in (None, name)]
    if not chosen:
        parser.error(f"no operation is called {given.only}; there are: {', '.join(names)}")
    processes = min(len(chosen), os.cpu_count() or 1)
    shares = [chosen[first::processes] for first in range(processes)]
    with ThreadPoolExecutor(processes) as side_by_side:
        runs = list(side_by_side.map(lambda share: run_share(share, given), shares))
    for run in runs:
        print(run.stdout)
    return judge(runs, len(chosen), given.examples if "fuzzing" in given.phases else 1)


def judge(runs: list[subprocess.CompletedProcess[str]], operations_asked: int, each: int) -> int:
    """0 when no run failed and together they sent at least `each` requests an operation, else 1."""
    sent = sum(int(count) for run in runs for count in SENT.findall(run.stdout))
    failed = sum(run.returncode != 0 for run in runs)
    print(f"{operations_asked} operations, {sent} requests, {failed} of {len(runs)} processes with a failure")
    if sent < operations_asked * each:
        print(f"fewer than {each} requests an operation")
    return int(failed > 0 or sent < operations_asked * each)


def run_share(names: list[str], given: argparse.Namespace) -> subprocess.CompletedProcess[str]:
    """One run of schemathesis on the named operations, against a server of its own."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), **PATIENT) as running:
        environment = {
            **os.environ,
            "SCHEMATHESIS_HOOKS": "tests.hostile.hooks",
            "PYTHONPATH": str(HERE.parents[1]),
        }
        command = _command(names, given, f"http://127.0.0.1:{running.port}")
        return subprocess.run(command, env=environment, cwd=folder, check=False, text=True, stdout=subprocess.PIPE)


def _command(names: list[str], given: argparse.Namespace, url: str) -> list[str]:
    # Without a database of examples there is no front of best examples to keep, which took half of the time.
    options = {
        "--url": url,
        "--workers": 1,
        "--request-timeout": 60,
        "--phases": given.phases,
        "--max-examples": given.examples,
        "--seed": given.seed,
        "--generation-database": "none",
        "--warnings": "off",
    }
    schemathesis = str(Path(sys.executable).parent / "schemathesis")
    command = [schemathesis, "--config-file", str(HERE / "schemathesis.toml"), "run", str(CONTRACT)]
    command += [str(item) for pair in options.items() for item in pair]
    command += [item for name in names for item in ("--include-operation-id", name)]
    return [*command, "--continue-on-failure", "--no-color"]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
