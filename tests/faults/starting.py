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

from tests.faults.rows import Form, Row
from tests.wire.serving import free_port

LATEST = 2.0
"""Seconds after the start of the process at which the last of the signals comes: it has been ready for long."""
MARK = 5.0
"""A lost signal would let the stop take 30 seconds, the time that requests in flight are given."""


async def stop_while_starting(form: Form) -> Row:
    """SIGTERM at instants spread over the start of two workers, without a drain."""
    rounds = int(form.pick(12, 120))
    statuses: Counter[int] = Counter()
    slowest = slowest_at = 0.0
    for number in range(rounds):
        at = LATEST * number / rounds
        status, seconds = await asyncio.to_thread(_stopped_after, form, at)
        statuses[status] += 1
        slowest, slowest_at = max((slowest, slowest_at), (seconds, at))
    return Row(
        f"SIGTERM while it starts, {rounds} times over {LATEST:.0f} s",
        f"exit statuses {dict(sorted(statuses.items()))} (-15: before Python could hear it); slowest stop "
        f"{slowest:.1f} s, told {slowest_at:.2f} s after the start (mark < {MARK:.0f})",
        not set(statuses) - {0, -signal.SIGTERM} and statuses[0] > rounds / 2 and slowest < MARK,
    )


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
        return process.wait(60), time.monotonic() - told
    finally:
        process.kill()


STARTING: tuple[Callable[[Form], Awaitable[Row]], ...] = (stop_while_starting,)
