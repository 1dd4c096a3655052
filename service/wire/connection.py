"""One accepted connection: whoever vanishes or does not take an answer is let go, and nobody waits for that."""

from __future__ import annotations

import errno
import socket
import time
from typing import Any

import gevent

from service.wire.turns import give_way

READER_SECONDS = 30.0
"""Time [s] in which a client must take the next 64 KiB of its answer."""
PIECE = 64 * 1024
LINGER_SECONDS = 1.0
LINGER_BYTES = 16 * 1024 * 1024


class Connection:
    """A socket for the HTTP parser; every way in which the other side can vanish is a connection reset."""

    def __init__(self, accepted: socket.socket) -> None:
        self._socket = accepted

    def __getattr__(self, name: str) -> Any:
        return getattr(self._socket, name)

    def recv(self, size: int, flags: int = 0) -> bytes:
        """Read what has arrived."""
        try:
            return self._socket.recv(size, flags)
        except OSError as error:
            raise _gone() from error

    def sendall(self, data: bytes) -> None:
        """Send all of it, as long as the other side goes on taking it."""
        view = memoryview(data)
        self._socket.settimeout(READER_SECONDS)
        try:
            for start in range(0, len(view), PIECE):
                self._socket.sendall(view[start : start + PIECE])
        except OSError as error:
            raise _gone() from error
        finally:
            self._socket.settimeout(None)

    def linger(self) -> None:
        """Say that no more comes, and let the client finish what it sends: closed on unread bytes, a connection
        is reset, and the answer is lost on its way."""
        end, left = time.monotonic() + LINGER_SECONDS, LINGER_BYTES
        try:
            self._socket.shutdown(socket.SHUT_WR)
            while left > 0 and (seconds := end - time.monotonic()) > 0:
                give_way()
                with gevent.Timeout(seconds, False):
                    read = len(self.recv(PIECE))
                    left -= read
                    if read == 0:
                        return
        except OSError:
            return


def _gone() -> OSError:
    return ConnectionResetError(errno.ECONNRESET, "the client is gone")
