"""A load for this machine's own address that costs little: prepared bytes, kept connections, a fixed count."""

from __future__ import annotations

import select
import socket
import time
from collections.abc import Iterable, Sequence
from itertools import cycle
from random import Random

from service.workshop.benchmarking.processes import HOST

CONNECTIONS = 4
MOST_BYTES = 65536
MOST_WAITING = 200
"""Requests unanswered at once; the next one waits here, and its time runs."""
MOST_REST = 5.0


class Question:
    """A request to send, in one or more versions that take turns, so that no answer can be remembered.

    items: how many points or visits it asks about.
    """

    def __init__(
        self, path: str, bodies: Sequence[bytes], items: int = 1, media_type: str = "application/json"
    ) -> None:
        self.path, self.body, self.items, self.media_type = path, bodies[0], items, media_type
        self._raws = cycle([self._raw(body) for body in bodies])

    def raw(self) -> bytes:
        """The next request on the wire."""
        return next(self._raws)

    def _raw(self, body: bytes) -> bytes:
        head = (
            f"POST {self.path} HTTP/1.1\r\nHost: {HOST}\r\nContent-Type: {self.media_type}\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        return head.encode() + body


def connect(port: int) -> socket.socket:
    """A connection that sends at once."""
    connection = socket.create_connection((HOST, port), timeout=60)
    connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    return connection


def answer(connection: socket.socket) -> bytes:
    """Read one answer, head and body; raises RuntimeError unless it is a 200."""
    received = bytearray()
    while (end := received.find(b"\r\n\r\n")) < 0:
        received += _some(connection)
    head = bytes(received[:end]).lower()
    if not head.startswith(b"http/1.1 200"):
        raise RuntimeError(f"not answered with 200: {bytes(received[:400])!r}")
    if b"transfer-encoding: chunked" in head:
        while not received.endswith(b"\r\n0\r\n\r\n"):
            received += _some(connection)
    else:
        length = end + 4 + int(head.split(b"content-length: ")[1].split(b"\r\n")[0])
        while len(received) < length:
            received += _some(connection)
    return bytes(received)


def _some(connection: socket.socket) -> bytes:
    received = connection.recv(MOST_BYTES)
    if not received:
        raise RuntimeError("the connection was closed before the answer was whole")
    return received


def ask(port: int, question: Question, count: int, connections: int = CONNECTIONS) -> int:
    """Ask `count` times, rounded up to whole turns of all connections; how many times it was asked."""
    turns = -(-count // connections)
    opened = [connect(port) for _ in range(connections)]
    for _ in range(turns):
        for connection in opened:
            connection.sendall(question.raw())
        for connection in opened:
            answer(connection)
    _close(opened)
    return turns * connections


def ask_at_rate(port: int, question: Question, rate: float, count: int) -> list[float]:
    """Ask at random instants (a Poisson stream, always the same one), whatever is still unanswered.

    rate: mean requests a second. Returns: seconds from the instant at which each was due to its whole answer.
    """
    random = Random(10)
    due, at = [], 0.0
    for _ in range(count):
        at += random.expovariate(rate)
        due.append(at)
    pool = _Pool(port)
    waiting: dict[socket.socket, float] = {}
    taken: list[float] = []
    start, sent = time.perf_counter() + 0.01, 0
    while len(taken) < count:
        now = time.perf_counter() - start
        while sent < count and due[sent] <= now and len(waiting) < MOST_WAITING:
            connection = pool.take()
            connection.sendall(question.raw())
            waiting[connection] = due[sent]
            sent += 1
        is_free = sent < count and len(waiting) < MOST_WAITING
        pause = max(0.0, due[sent] - (time.perf_counter() - start)) if is_free else None
        for connection in select.select(list(waiting), [], [], pause)[0]:
            answer(connection)
            taken.append(time.perf_counter() - start - waiting.pop(connection))
            pool.give(connection)
    pool.close()
    return taken


class _Pool:
    """Kept connections; one that has rested too long may be about to be closed by the server and is not used."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._free: list[tuple[socket.socket, float]] = []

    def take(self) -> socket.socket:
        """The connection that rested the shortest, or a new one."""
        if self._free:
            connection, since = self._free.pop()
            if time.perf_counter() - since < MOST_REST:
                return connection
            connection.close()
        return connect(self._port)

    def give(self, connection: socket.socket) -> None:
        """Back for the next one."""
        self._free.append((connection, time.perf_counter()))

    def close(self) -> None:
        """Close them all."""
        _close(connection for connection, _ in self._free)


def _close(connections: Iterable[socket.socket]) -> None:
    for connection in connections:
        connection.close()
