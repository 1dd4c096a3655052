"""python -m tests.benchmarks.instructions: bytecode instructions a visit, against those of the last release.

With --keep NAME the counts become the ones to compare with; a release does that, and nobody else needs to. The
counts are of one minor version of Python, because each compiles to other instructions, and of one order of hashes.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml

from service.wire.warm import typical_visit
from service.workshop.benchmarking.instructions import instructions_of

ROOT = Path(__file__).parents[2]
KEPT = Path(__file__).with_name("instructions.json")
MOST = 1.10
"""Instructions over those of the last release from which the alarm goes off."""
PYTHON = ".".join(map(str, sys.version_info[:2]))
Counts = Mapping[str, int]


def visits() -> Iterator[tuple[str, dict[str, Any]]]:
    """The visit of the bench, the visits of the samples, and the first golden case of each kind of visit."""
    yield "typical", typical_visit()
    for file in sorted((ROOT / "samples/visits").glob("*.json")):
        yield f"samples/{file.stem}", json.loads(file.read_text(encoding="utf-8"))
    for file in sorted((ROOT / "tests/cases/visits").glob("*.yaml")):
        first = next(case for case in yaml.safe_load(file.read_text()) if case.get("endpoint") == "/v1/assessment")
        yield f"{file.stem}/{first['name']}", first["request"]


def counts() -> dict[str, int]:
    """Instructions by visit, counted in a process of its own, in which hashes always fall alike."""
    command = [sys.executable, "-m", "tests.benchmarks.instructions", "--count"]
    told = {"PATH": os.environ["PATH"], "PYTHONHASHSEED": "0"}
    done = subprocess.run(command, env=told, cwd=ROOT, capture_output=True, check=True)
    found: dict[str, int] = json.loads(done.stdout.splitlines()[-1])
    return found


def kept() -> dict[str, Any]:
    """The counts to compare with: `release` whose they are, `python`, `visits`."""
    found: dict[str, Any] = json.loads(KEPT.read_text())
    return found


def over(now: Counts, before: Counts) -> float:
    """Instructions now over those before, of the visits that were counted both times."""
    both = now.keys() & before.keys()
    return sum(now[name] for name in both) / sum(before[name] for name in both)


def main(arguments: list[str]) -> int:
    """Print the counts beside those of the last release; 1 where they are too many."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.instructions", description=__doc__)
    parser.add_argument("--keep", metavar="NAME", help="compare with these counts from now on, under this name")
    parser.add_argument("--count", action="store_true", help="count in this very process and print JSON")
    given = parser.parse_args(arguments)
    if given.count:
        print(json.dumps({name: instructions_of(visit) for name, visit in visits()}))
        return 0
    now = counts()
    if given.keep:
        KEPT.write_text(json.dumps({"release": given.keep, "python": PYTHON, "visits": now}, indent=1) + "\n")
        return 0
    before = kept()
    for name, count in now.items():
        was = before["visits"].get(name)
        print(f"{name:60} {count:9,}" + (f"{count / was:8.3f}" if was else "     new"))
    print(f"{'all of them, over ' + before['release']:60} {over(now, before['visits']):17.3f}")
    return int(over(now, before["visits"]) > MOST)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
