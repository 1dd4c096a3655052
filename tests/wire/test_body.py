"""What an answered request still has to say: read away, whoever else has a turn meanwhile."""

from __future__ import annotations

import pytest

from service.wire import body as reading


class _Arrived:
    """A body of which all bytes are there already."""

    failed = False

    def __init__(self, size: int) -> None:
        self.left = size

    def read(self, size: int) -> bytes:
        taken = min(size, self.left)
        self.left -= taken
        return bytes(taken)


class _Clock:
    """A clock that stands still but for the turns of others."""

    def __init__(self) -> None:
        self.now = 0.0

    def monotonic(self) -> float:
        return self.now

    def others(self) -> None:
        self.now += 2 * reading.LEFT_SECONDS


def test_turns_of_others_are_not_the_clients_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Under overload the other connections have their turns for longer than the client has: RFC 9112 section 9.3
    lets a client send its next request on a connection that was not announced as closed."""
    clock = _Clock()
    monkeypatch.setattr(reading, "time", clock)
    monkeypatch.setattr(reading, "give_way", clock.others)
    body = _Arrived(5 * reading.CHUNKED_STEP)
    assert reading.read_to_the_end(body)
    assert body.left == 0


def test_more_than_is_read_away_closes_the_connection() -> None:
    assert not reading.read_to_the_end(_Arrived(2 * reading.LEFT_BYTES))
