"""The server, told to stop while it starts at a moment in which Python ignores what a handler raises."""

from __future__ import annotations

import signal
import sys
import weakref

from service.__main__ import main
from service.wire import server

warm_up = server.warm_up


class Collected:
    """Something that is collected."""


def told_while_collecting() -> None:
    """Warm up; on the way the callback of a weak reference is interrupted by the signal."""
    thing = Collected()
    watched = weakref.ref(thing, lambda _: signal.raise_signal(signal.SIGTERM))
    del thing
    assert watched() is None
    warm_up()


if __name__ == "__main__":
    server.warm_up = told_while_collecting
    sys.exit(main())
