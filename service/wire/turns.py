"""Giving way by time: whatever goes on for long in a worker lets the other connections have their turn."""

from __future__ import annotations

import gevent

from service.wire.admission import PACE

SLICE = 0.01
"""Longest time [s] in one turn of the event loop before whatever can be interrupted gives way."""


def give_way() -> None:
    """Let the others go on if this turn of the loop has lasted long enough."""
    if PACE.lasted() > SLICE:
        gevent.sleep(0)
