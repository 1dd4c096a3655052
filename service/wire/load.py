"""How much this process has at work: requests that have arrived and are not answered yet."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from weakref import WeakSet

LOAD = "service.load"
"""Where a request finds the load of its process."""
_EVERY: WeakSet[Load] = WeakSet()


class Load:
    """A counter of requests at work."""

    def __init__(self) -> None:
        self.requests = 0
        _EVERY.add(self)

    def enter(self) -> None:
        """One more request is at work."""
        self.requests += 1

    def leave(self) -> None:
        """One request less is at work."""
        self.requests -= 1

    @contextmanager
    def arriving(self) -> Iterator[None]:
        """While its body is still on the way, a request is not at work: slow clients must not fill the cap."""
        self.leave()
        try:
            yield
        finally:
            self.enter()


def requests_at_work() -> int:
    """Requests at work in this process."""
    return sum(load.requests for load in _EVERY)
