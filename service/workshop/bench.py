"""python -m service bench: what a request costs, against baselines that run in the same minutes.

The server has one core and the load the other. What counts is the server's time on a processor, which other work
on the machine hardly moves, and its ratio to F: Flask with a fast JSON provider that echoes a body of 600 bytes in
an answer of 1.5 kB. Every server is asked in turn, round by round. All load goes to this machine's own address and
is bounded in number. Needs the optional dependencies: pip install '.[bench]'.
"""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from service.results.record import replace
from service.workshop.benchmarking import history
from service.workshop.benchmarking.parts import FULL, PARTS, TINY
from service.workshop.benchmarking.processes import LOAD_CORE


def main(arguments: list[str]) -> int:
    """Measure, print each figure, and append the run to the history where one is named."""
    parser = argparse.ArgumentParser(
        prog="python -m service bench", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("parts", nargs="*", help=f"which of {', '.join(PARTS)}; all when none is named")
    parser.add_argument("--tiny", action="store_true", help="a few requests of each kind: does it run at all")
    parser.add_argument("--visits", type=int, help="how many visits go through the library in the part memory")
    parser.add_argument("--history", type=Path, help="file to append the figures to, one JSON line a run")
    given = parser.parse_args(arguments)
    if unknown := set(given.parts) - set(PARTS):
        parser.error(f"no such part: {', '.join(sorted(unknown))}")
    size = TINY if given.tiny else FULL
    size = replace(size, visits=given.visits) if given.visits else size
    figures: history.Figures = {}
    allowed = os.sched_getaffinity(0)
    os.sched_setaffinity(0, {LOAD_CORE})
    for name in given.parts or PARTS:
        found = PARTS[name](size)
        figures |= found
        for figure, value in found.items():
            print(f"{figure:32} {value}", flush=True)
    os.sched_setaffinity(0, allowed)
    if given.history:
        history.append(given.history, figures)
    return 0
