"""A stop that comes before anything is served ends the start, wherever Python happens to be."""

from __future__ import annotations

import signal
import sys

_told: list[int] = []


def hear_stops() -> None:
    """End the process at a signal to stop, until the server sets its own handlers.

    The first process of a container would not hear of it otherwise: for that one the kernel holds back every
    signal without a handler.
    """
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, _leave)


def _leave(number: int, _frame: object) -> None:
    _told.append(number)
    sys.exit(0)


def leave_if_told() -> None:
    """Leave now where what `_leave` raised was lost.

    Python ignores what is raised in a finalizer or in the callback of a weak reference, which every import has,
    and compiled libraries clear errors of their own: a signal that is handled there would be forgotten.
    """
    if _told:
        sys.exit(0)
