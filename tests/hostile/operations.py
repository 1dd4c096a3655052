"""Property-based requests to every operation by schemathesis, against a server of its own.

.venv/bin/python -m tests.hostile.operations [--examples 100] [--phases examples,fuzzing]

Phases: examples (those of the contract), coverage (each member at and beyond each limit: about 60,000 requests),
fuzzing (--examples an operation: 100 take a good minute on two cores, 500 ten). The exit status is 0 without a
failure.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.wire.serving import served

HERE = Path(__file__).parent
CONTRACT = HERE.parents[1] / "openapi" / "openapi.json"
PATIENT = {"WEB_CONCURRENCY": "2", "QUEUE_MILLISECONDS": "60000"}


def main(arguments: list[str]) -> int:
    """Run schemathesis and return its exit status."""
    parser = argparse.ArgumentParser(description="Property-based requests to every operation.")
    parser.add_argument("--examples", type=int, default=100, help="requests an operation, 100 by default")
    parser.add_argument("--phases", default="examples,fuzzing")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="one operation, by its operationId")
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), **PATIENT) as running:
        command = [
            *(str(Path(sys.executable).parent / "schemathesis"), "--config-file", str(HERE / "schemathesis.toml")),
            *("run", str(CONTRACT), "--url", f"http://127.0.0.1:{running.port}"),
            *(
                "--workers",
                "2",
                "--request-timeout",
                "60",
                "--phases",
                given.phases,
                "--max-examples",
                str(given.examples),
            ),
            *("--seed", str(given.seed), "--continue-on-failure", "--warnings", "off", "--no-color"),
            *(("--include-operation-id", given.only) if given.only else ()),
        ]
        environment = {
            **os.environ,
            "SCHEMATHESIS_HOOKS": "tests.hostile.hooks",
            "PYTHONPATH": str(HERE.parents[1]),
        }
        return subprocess.run(command, env=environment, cwd=folder, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
