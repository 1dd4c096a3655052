"""Workers of a cluster have the edition of whoever asks, or judge nothing: real processes, real other code."""

import os
import shutil
import subprocess
import sys
import time
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

from service.workshop.fleet.columns import Wanted
from service.workshop.fleet.judging import fleet_edition, judge_partition
from service.workshop.fleet.plan import partitions
from tests.fleet.conftest import ROOT, environment, fleet, rows_in, visit, write_lines

START_SECONDS = 60


@contextmanager
def started(*arguments, code=ROOT, folder=None):
    """A process of the cluster, with the package as it lies in `code`."""
    command = [sys.executable, "-m", "distributed.cli.dask_" + arguments[0], *map(str, arguments[1:])]
    told = environment() | {"PYTHONPATH": str(code)}
    process = subprocess.Popen(command, env=told, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield process
    finally:
        process.terminate()
        process.wait(START_SECONDS)


@contextmanager
def cluster_of(folder, *codes):
    """A scheduler with one worker process for each copy of the package; the scheduler's address."""
    from distributed import Client

    told = folder / "scheduler.json"
    with ExitStack() as stack:
        asked = ("scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", told)
        stack.enter_context(started(*asked, folder=folder))
        until = time.monotonic() + START_SECONDS
        while not told.exists() and time.monotonic() < until:
            time.sleep(0.05)
        for number, code in enumerate(codes):
            place = ("--local-directory", folder / f"worker-{number}")
            asked = ("worker", "--scheduler-file", told, "--nthreads", "1", "--no-dashboard", *place)
            stack.enter_context(started(*asked, code=code, folder=folder))
        with Client(scheduler_file=str(told), timeout=START_SECONDS) as client:
            client.wait_for_workers(len(codes), timeout=START_SECONDS)
            address = client.scheduler.address
        yield address


def other_code(folder: Path, file: str) -> Path:
    """A copy of the package in which one file says something else."""
    shutil.copytree(ROOT / "service", folder / "service", ignore=shutil.ignore_patterns("__pycache__"))
    with (folder / "service" / file).open("a", encoding="utf-8") as changed:
        changed.write("\n# not as it was\n")
    return folder


@pytest.mark.fleet
@pytest.mark.parametrize("file", ["words/locales/es/report/note.yaml", "workshop/fleet/columns.py"])
def test_a_cluster_with_a_worker_of_another_edition_is_refused(tmp_path, file):
    lines = write_lines(tmp_path / "visits.ndjson", [visit(number) for number in range(6)])
    changed = other_code(tmp_path / "other", file)
    with cluster_of(tmp_path, ROOT, changed) as scheduler:
        done = fleet("judge", lines, tmp_path / "out", "--rows", "2", "--scheduler", scheduler)
    assert done.returncode == 1
    assert "another edition of this package is installed on tcp://127.0.0.1:" in done.stderr
    assert done.stderr.count("tcp://") == 1, "the worker of the same edition is not blamed"
    assert rows_in(tmp_path / "out") == []


@pytest.mark.fleet
def test_the_same_cluster_of_one_edition_judges(tmp_path):
    lines = write_lines(tmp_path / "visits.ndjson", [visit(number) for number in range(6)])
    same = tmp_path / "same"
    shutil.copytree(ROOT / "service", same / "service", ignore=shutil.ignore_patterns("__pycache__"))
    with cluster_of(tmp_path, ROOT, same) as scheduler:
        done = fleet("judge", lines, tmp_path / "out", "--rows", "2", "--scheduler", scheduler)
    assert done.returncode == 0, done.stderr
    assert [row["status"] for row in rows_in(tmp_path / "out")] == [200] * 6


def test_a_worker_that_joins_later_with_another_edition_judges_nothing(tmp_path):
    lines = write_lines(tmp_path / "visits.ndjson", [visit(1)])
    ((one,), _) = partitions([str(lines)])
    os.mkdir(tmp_path / "out")
    asked_by_another = fleet_edition() | {"edition": "0" * 16}
    refused = judge_partition(one, str(tmp_path / "out"), Wanted(), asked_by_another)
    assert refused.wrong == "part-00000.parquet: a worker has another edition of this package"
    assert list((tmp_path / "out").iterdir()) == []
    assert judge_partition(one, str(tmp_path / "out"), Wanted(), fleet_edition()).rows == 1
