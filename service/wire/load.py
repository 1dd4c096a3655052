"""How much this process has at work: requests that have arrived and are not answered yet."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from service.wire import metrics

LOAD = "service.load"
"""Where a request finds the load of its process."""


class Load:
    """A counter of requests at work, mirrored into the metrics."""

    def __init__(self) -> None:
        self.requests = 0

    def enter(self) -> None:
        """One more request is at work."""
        self.requests += 1
        metrics.in_flight(self.requests)

    def leave(self) -> None:
        """One request less is at work."""
        self.requests -= 1
        metrics.in_flight(self.requests)

    @contextmanager
    def arriving(self) -> Iterator[None]:
        """While its body is still on the way, a request is not at work: slow clients must not fill the cap."""
        self.leave()
        try:
            yield
        finally:
            self.enter()
