"""An answer whose head and first piece leave in one write.

Sent one after the other, a worker killed in between leaves half an answer, which no balancer can ask for again;
sent together, the balancer has either the whole of a short answer or nothing.
"""

from __future__ import annotations

from typing import Any

from gunicorn.http.wsgi import Response


class _Gathering:
    """Stands in for a connection and keeps what would have been sent."""

    def __init__(self) -> None:
        self.pieces: list[bytes] = []

    def sendall(self, data: bytes) -> None:
        """Keep a piece."""
        self.pieces.append(data)


class WholeResponse(Response):  # type: ignore[misc]
    """gunicorn's response, with one write to the connection for each piece of the body."""

    sock: Any

    def write(self, arg: bytes) -> None:
        """Send a piece of the body, with the head before the first one."""
        connection = self.sock
        self.sock = gathering = _Gathering()
        try:
            super().write(arg)
        finally:
            self.sock = connection
        if gathering.pieces:
            connection.sendall(b"".join(gathering.pieces))
