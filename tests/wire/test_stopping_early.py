"""A stop is heard whenever it comes: before the server listens, and while a worker is being born."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from service.wire.server import STOP_SECONDS
from tests.wire.serving import PATIENCE, served, until

SLOW_BIRTH = "tests.wire.slow_birth"
LOST_STOP = "tests.wire.lost_stop"


@pytest.mark.parametrize("told", [(signal.SIGTERM,), (signal.SIGINT,), (signal.SIGTERM, signal.SIGTERM)])
def test_a_worker_told_to_stop_while_it_is_born_stops(tmp_path: Path, told: tuple[signal.Signals, ...]) -> None:
    """SIGTERM, with no drain, ends it gracefully; SIGINT, and a second SIGTERM during a drain, at once."""
    born = tmp_path / "born"
    drain = "60" if len(told) > 1 else "0"
    with served(tmp_path, SLOW_BIRTH, WEB_CONCURRENCY="2", DRAIN_SECONDS=drain, BORN=str(born)) as running:
        until(born.exists, "the birth of the second worker")
        started = time.monotonic()
        for number in told:
            running.process.send_signal(number)
            time.sleep(0.5)  # two at the same instant would be one
        assert running.process.wait(PATIENCE) == 0
        assert time.monotonic() - started < STOP_SECONDS  # which a worker is given that does not hear
        assert '"level":"error"' not in running.log.read_text()


@pytest.mark.parametrize("told", [signal.SIGTERM, signal.SIGINT])
def test_a_stop_before_the_server_listens_ends_the_start(tmp_path: Path, told: signal.Signals) -> None:
    with starting(tmp_path, "service") as process:
        assert process.stdout is not None
        assert json.loads(process.stdout.readline())["message"] == "starting"
        process.send_signal(told)
        ends_without_a_word(process)


def test_a_stop_that_is_lost_where_python_ignores_it_is_heard_later(tmp_path: Path) -> None:
    """The documentation of Python: what the callback of a weak reference raises is reported and ignored."""
    with starting(tmp_path, LOST_STOP) as process:
        ends_without_a_word(process)


def starting(tmp_path: Path, module: str) -> subprocess.Popen[bytes]:
    folder = tmp_path / "memory"
    folder.mkdir()
    command = [sys.executable, "-m", module, "serve", "--bind", "127.0.0.1:0"]
    settings = {"PATH": os.environ["PATH"], "DRAIN_SECONDS": "0", "METRICS_DIRECTORY": str(folder)}
    return subprocess.Popen(command, env=settings, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)


def ends_without_a_word(process: subprocess.Popen[bytes]) -> None:
    """It ends with status 0 and told of nothing but its start."""
    try:
        said, _ = process.communicate(timeout=PATIENCE)
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGINT)
        pytest.fail("it did not hear the signal and serves")
    assert process.returncode == 0
    lines = [json.loads(line) for line in said.decode().splitlines()]
    assert all(line["level"] == "info" for line in lines)
    assert not any("Listening" in line["message"] for line in lines)
