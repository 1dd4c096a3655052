"""Audit a month of an invented firm's visits: post them all at once, print what was found, draw it.

python samples/month_audit.py [--address http://127.0.0.1:8650] [--visits 300] [--picture month.svg]
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import requests
from invented_firm import Job, month
from matplotlib.figure import Figure

SECONDS = 300.0
STATES = ("unsafe", "fault", "undecided", "sound")
HATCHES = {"unsafe": "xxxx", "fault": "////", "undecided": "....", "sound": ""}
BAR: dict[str, Any] = {"facecolor": "#d5dde5", "edgecolor": "#1b2733"}
Found = tuple[Job, dict[str, Any]]


def audit(address: str, jobs: list[Job]) -> Iterator[Found]:
    """Each job with its answer, as the lines arrive; a refused line is told and passed over."""
    body = "\n".join(json.dumps(job.document) for job in jobs)
    headers = {"Content-Type": "application/x-ndjson", "Accept": "application/x-ndjson"}
    where = f"{address}/v1/batch"
    with requests.post(where, body.encode(), headers=headers, stream=True, timeout=SECONDS) as answer:
        answer.raise_for_status()
        for line in answer.iter_lines():
            found = json.loads(line)
            if found["status"] == 200:
                yield jobs[found["line"] - 1], found["assessment"]
            else:
                print(f"line {found['line']} refused: {found['problem']['detail']}", file=sys.stderr)


def named(assessment: dict[str, Any]) -> str:
    """The cause that leads an answer."""
    code: str = assessment["causes"][0]["code"]
    return code


def report(found: list[Found]) -> None:
    """What the office wants to know of its month."""
    states = Counter(assessment["outcome"]["state"] for _, assessment in found)
    print(f"{len(found)} visits: " + ", ".join(f"{states[state]} {state}" for state in STATES))
    for cause, count in Counter(named(assessment) for _, assessment in found).most_common():
        print(f"  {count:4d}  {cause}")
    put_in = [(job, assessment) for job, assessment in found if job.truth is not None]
    right = sum(named(assessment) == job.truth for job, assessment in put_in)
    print(f"of {len(put_in)} faults that were put in, {right} lead the list of causes")
    sound = [assessment for job, assessment in found if job.truth is None]
    accused = sum(assessment["outcome"]["state"] in ("fault", "unsafe") for assessment in sound)
    print(f"of {len(sound)} sound units, {accused} were called faulty")
    for job, assessment in found:
        if assessment["outcome"]["state"] == "unsafe":
            holds = ", ".join(hold["code"] for hold in assessment["holds"])
            print(f"  unsafe: {assessment['reference']}, technician {job.technician}: {holds}")


def draw(found: Iterable[Found], file: Path) -> None:
    """Causes found, each bar split by outcome; a diamond marks how many were put in."""
    counts: dict[str, Counter[str]] = {}
    truths: Counter[str] = Counter()
    for job, assessment in found:
        counts.setdefault(named(assessment), Counter())[assessment["outcome"]["state"]] += 1
        truths[job.truth or "cause.none-found"] += 1
    causes = sorted(set(counts) | set(truths), key=lambda cause: sum(counts.get(cause, Counter()).values()))
    figure = Figure(figsize=(7.5, 0.45 * len(causes) + 1.6), layout="constrained")
    axes = figure.add_subplot()
    left = [0] * len(causes)
    for state in STATES:
        widths = [counts.get(cause, Counter())[state] for cause in causes]
        axes.barh(causes, widths, left=left, label=state, hatch=HATCHES[state], **BAR)
        left = [start + width for start, width in zip(left, widths, strict=True)]
    axes.plot([truths[cause] for cause in causes], causes, "D", color="#1b2733", label="put in")
    axes.set_xlabel("visits")
    axes.set_title("A month of an invented firm: the leading cause of each visit", loc="left")
    axes.legend(loc="lower right")
    figure.savefig(file)


def main(arguments: list[str] | None = None) -> None:
    """Make the month, judge it, print and draw."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--address", default="http://127.0.0.1:8650")
    parser.add_argument("--visits", type=int, default=300, help="1 to 1,000")
    parser.add_argument("--picture", type=Path, default=Path("month.svg"))
    given = parser.parse_args(arguments)
    found = list(audit(given.address.rstrip("/"), list(month(given.visits))))
    report(found)
    draw(found, given.picture)
    print(f"drawn: {given.picture}")


if __name__ == "__main__":
    main()
