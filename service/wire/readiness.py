"""Whether this instance should be asked: it is not stopping, its workers live, a known sum came out right once."""

from __future__ import annotations

import mmap
import struct
import time
from functools import cache

from service.knowledge.refrigerants import find
from service.wire.problems import ProblemError

_FLAG = mmap.mmap(-1, 1)
"""One byte shared by the master and every worker forked from it."""


_BEAT = mmap.mmap(-1, 8)
"""When a worker last beat its heart (CLOCK_MONOTONIC, which all processes share); 0 where nobody watches."""
_TIME = struct.Struct("d")
MOST_SILENCE = 10.0
"""Seconds without any worker's heartbeat after which this instance is not asked; they beat five times a second."""


def beat() -> None:
    """A worker that serves is alive."""
    _TIME.pack_into(_BEAT, 0, time.monotonic())


def silent() -> bool:
    """Whether no worker has been heard of for long."""
    (last,) = _TIME.unpack_from(_BEAT)
    return bool(last) and time.monotonic() - last > MOST_SILENCE


def start_draining() -> None:
    """From now on every worker says that it is about to stop."""
    _FLAG[0] = 1


def draining() -> bool:
    """Whether the first SIGTERM has come."""
    return _FLAG[0] == 1


@cache
def _known_sum() -> bool:
    """R-134a boils under 292.8 kPa at 0 C (ASHRAE Handbook Fundamentals 2017, chapter 30, table of R-134a)."""
    return abs(find("R-134a").saturation.dew_pressure(273.15) - 292_800.0) < 500.0


def require_known_sum() -> None:
    """Raise 503 when the property tables answer wrongly; worked out once in the life of a process."""
    if not _known_sum():
        raise ProblemError("server.not-ready", headers=(("Retry-After", "5"),))
