"""How much this process has at work: requests that have arrived and are not answered yet."""

from __future__ import annotations

from weakref import WeakSet

LOAD = "service.load"
"""Where a request finds the load of its process."""
ARRIVED = "service.arrived"
"""Where the outermost layer finds how long the body took to arrive, and the processor time when it had [s]."""
COST = "service.processor_seconds"
"""Where it finds what an answer has cost that was worked out elsewhere [s]."""
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

    @property
    def arriving(self) -> _Arriving:
        """While its body is still on the way, a request is not at work: slow clients must not fill the cap."""
        return _Arriving(self)


class _Arriving:
    def __init__(self, load: Load) -> None:
        self._load = load

    def __enter__(self) -> None:
        self._load.leave()

    def __exit__(self, *_: object) -> None:
        self._load.enter()


def requests_at_work() -> int:
    """Requests at work in this process."""
    return sum(load.requests for load in _EVERY)
