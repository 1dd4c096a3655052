"""The same assessment over as many visits as there are: the library's functions called in partitions by Dask.

python samples/many_visits.py [--visits 400] [--workers 1,2] [--rows 1000000]

No service runs here: each partition makes its invented visits, judges them, and hands back counts that add up.
What needs only arithmetic runs over whole columns (`screen`); the full judgement is kept for what needs it.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any

import numpy as np
from invented_firm import job
from numpy.typing import NDArray

from service.knowledge.refrigerants import find
from service.reasoning.assessment import assess
from service.results.units import STANDARD_ATMOSPHERE, Units, to_si
from service.results.visit import Visit
from service.schemas.documents import load

try:
    import dask
    from dask import bag
except ModuleNotFoundError:
    sys.exit("This sample needs Dask: pip install 'air-conditioner-diagnosis[fleet]'  (or: pip install dask)")

PARTITION = 25
Column = NDArray[np.float64]


@dataclass(frozen=True)
class Judged:
    """What a partition hands back: counts by outcome state and leading cause, and its own processor time [s]."""

    counts: Counter[tuple[str, str]]
    processor_seconds: float


def judge(numbers: Iterable[int]) -> list[Judged]:
    """Make and judge the visits of a partition."""
    started = time.process_time()
    counts: Counter[tuple[str, str]] = Counter()
    for number in numbers:
        answer = assess(load(Visit, job(number, 1, seed=7).document))
        assert answer.outcome is not None
        counts[answer.outcome.state, answer.causes[0].code] += 1
    return [Judged(counts, time.process_time() - started)]


def assess_many(count: int, workers: int) -> tuple[Judged, float]:
    """Judge so many visits on so many warm processes. Returns: the sum over the partitions, and seconds."""
    with ProcessPoolExecutor(workers, get_context("spawn")) as pool, dask.config.set(pool=pool):
        _compute(2 * workers, 1)  # each process loads the library and its tables once
        started = time.perf_counter()
        parts = _compute(count, PARTITION)
        seconds = time.perf_counter() - started
    counts = sum((part.counts for part in parts), Counter[tuple[str, str]]())
    return Judged(counts, sum(part.processor_seconds for part in parts)), seconds


def _compute(count: int, partition: int) -> list[Judged]:
    visits = bag.from_sequence(range(count), partition_size=partition)
    found: list[Judged] = visits.map_partitions(judge).compute(scheduler="processes")
    return found


def screen(suction: Column, liquid: Column, suction_line: Column, liquid_line: Column) -> dict[str, Column]:
    """Superheat and subcooling [K] of whole columns: pressures [Pa absolute], line temperatures [K], of R-410A."""
    curve = find("R-410A").saturation
    return {
        "superheat": suction_line - curve.dew_temperature_array(suction),
        "subcooling": curve.bubble_temperature_array(liquid) - liquid_line,
    }


def screen_many(rows: int) -> tuple[float, float]:
    """Screen so many visits at once. Returns: share with less than 3 K of subcooling, seconds."""
    draw = np.random.default_rng(7)

    def column(kind: str, mean: float, spread: float) -> Column:
        zero, one = (to_si(value, kind, Units(), STANDARD_ATMOSPHERE) for value in (0.0, 1.0))
        return np.asarray(draw.normal(mean, spread, rows) * (one - zero) + zero)

    columns = (
        column("pressure", 125.0, 8.0),
        column("pressure", 370.0, 25.0),
        column("temperature", 57.0, 3.0),
        column("temperature", 101.0, 4.0),
    )
    started = time.perf_counter()
    short = float((screen(*columns)["subcooling"] < 3.0).mean())
    return short, time.perf_counter() - started


def main(arguments: list[str] | None = None) -> None:
    """Measure on this machine's cores and print what was found and how fast."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=400)
    parser.add_argument("--workers", default="1,2", help="numbers of processes to try, by commas")
    parser.add_argument("--rows", type=int, default=1_000_000)
    given = parser.parse_args(arguments)
    results: list[dict[str, Any]] = []
    for workers in (int(text) for text in given.workers.split(",")):
        judged, seconds = assess_many(given.visits, workers)
        results.append({"rate": given.visits / seconds, "counts": judged.counts})
        each = 1000.0 * judged.processor_seconds / given.visits
        rate = f"{given.visits / seconds:.0f} a second, {each:.1f} ms of processor time each"
        print(f"{workers} processes: {given.visits} visits in {seconds:.1f} s, {rate}")
    assert all(result["counts"] == results[0]["counts"] for result in results)
    print(f"speed-up of the last over the first: {results[-1]['rate'] / results[0]['rate']:.2f}")
    for (state, cause), count in results[0]["counts"].most_common():
        print(f"  {count:5d}  {state:<9} {cause}")
    short, seconds = screen_many(given.rows)
    print(f"screened {given.rows} rows in {seconds:.2f} s, {given.rows / seconds:,.0f} a second")
    print(f"{short:.1%} of them are short of subcooling")


if __name__ == "__main__":
    main()
