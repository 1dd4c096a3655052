"""A stop that comes while the service starts: at any instant, it stops."""

from __future__ import annotations

import asyncio
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Awaitable, Callable

from service.wire.server import STOP_SECONDS
from tests.faults.rows import Form, Row
from tests.wire.serving import PATIENCE, free_port, served

MARK = 5.0
"""Seconds; a signal that is lost lets the stop take STOP_SECONDS, the time that requests in flight are given."""


async def stop_while_starting(form: Form) -> Row:
    """SIGTERM at instants spread over the start of two workers and a little after it, without a drain."""
    rounds, latest = int(form.pick(12, 120)), 1.5 * _seconds_of_a_start(form)
    statuses: Counter[int] = Counter()
    slowest = slowest_at = 0.0
    for number in range(rounds):
        at = latest * number / rounds
        status, seconds = await asyncio.to_thread(_stopped_after, form, at)
        statuses[status] += 1
        slowest, slowest_at = max((slowest, slowest_at), (seconds, at))
    return Row(
        f"SIGTERM while it starts, {rounds} times over {latest:.1f} s",
        f"exit statuses {dict(sorted(statuses.items()))} (-15: before Python could hear it); slowest stop "
        f"{slowest:.1f} s, told {slowest_at:.2f} s after the start (mark < {MARK:.0f})",
        not set(statuses) - {0, -signal.SIGTERM}
        and statuses[0] > rounds / 2
        and slowest < STOP_SECONDS
        and form.judged(slowest < MARK),
    )


def _seconds_of_a_start(form: Form) -> float:
    started = time.monotonic()
    with served(form.folder, WEB_CONCURRENCY="2"):
        return time.monotonic() - started


def _stopped_after(form: Form, seconds: float) -> tuple[int, float]:
    """Exit status of a server that is told to stop so long after its start, and how long it took to stop [s]."""
    command = [sys.executable, "-m", "service", "serve", "--bind", f"127.0.0.1:{free_port()}"]
    settings = {"PATH": os.environ["PATH"], "WEB_CONCURRENCY": "2", "DRAIN_SECONDS": "0"}
    with (form.folder / "starting.log").open("wb") as log:
        process = subprocess.Popen(command, env=settings, stdout=log, stderr=subprocess.STDOUT)
    time.sleep(seconds)
    told = time.monotonic()
    process.send_signal(signal.SIGTERM)
    try:
        return process.wait(PATIENCE), time.monotonic() - told
    finally:
        process.kill()


STARTING: tuple[Callable[[Form], Awaitable[Row]], ...] = (stop_while_starting,)
