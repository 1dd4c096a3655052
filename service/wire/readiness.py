"""Whether this instance should be asked: it is not stopping."""

from __future__ import annotations

import mmap

_FLAG = mmap.mmap(-1, 1)
"""One byte shared by the master and every worker forked from it."""


def start_draining() -> None:
    """From now on every worker says that it is about to stop."""
    _FLAG[0] = 1


def draining() -> bool:
    """Whether the first SIGTERM has come."""
    return _FLAG[0] == 1
