"""A small HTTP load generator for this machine's own address: bounded in number and time, stops by itself."""

from __future__ import annotations

import asyncio
import time
from collections import Counter, deque
from dataclasses import dataclass, field

from service.results.record import Record

HOST = "127.0.0.1"


@dataclass
class Tally:
    """What came back: statuses, what failed, and how long the answers of each status took [s]."""

    statuses: Counter[int] = field(default_factory=Counter)
    failures: Counter[str] = field(default_factory=Counter)
    seconds: dict[int, list[float]] = field(default_factory=dict)
    without_retry_after: int = 0
    refused_connections: int = 0

    def note(self, status: int, headers: bytes, seconds: float) -> None:
        """Count one answer."""
        self.statuses[status] += 1
        self.seconds.setdefault(status, []).append(seconds)
        if status in (429, 503) and b"\r\nRetry-After: " not in headers:
            self.without_retry_after += 1

    def p(self, share: float, status: int = 200) -> float:
        """A quantile of the answer times of one status [s]."""
        ordered = sorted(self.seconds.get(status, [float("nan")]))
        return ordered[min(int(share * len(ordered)), len(ordered) - 1)]

    @property
    def failed(self) -> int:
        """Requests that were sent and got no answer."""
        return sum(self.failures.values())


class Request(Record):
    """One request as bytes."""

    method: str
    path: str
    body: bytes = b""
    headers: str = ""

    def raw(self) -> bytes:
        """The request on the wire."""
        head = f"{self.method} {self.path} HTTP/1.1\r\nHost: {HOST}\r\nContent-Length: {len(self.body)}\r\n"
        return f"{head}{self.headers}Content-Type: application/json\r\n\r\n".encode() + self.body


class Connection:
    """One kept connection; makes a new one when the server has closed it."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._streams: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None

    async def ask(self, raw: bytes, tally: Tally) -> bool:
        """Send and read one answer; False when nobody listens any more."""
        started = time.perf_counter()
        try:
            self._streams = self._streams or await asyncio.open_connection(HOST, self._port)
        except OSError:
            tally.refused_connections += 1
            return False
        try:
            status, headers = await asyncio.wait_for(self._exchange(raw), 30)
        except (OSError, asyncio.IncompleteReadError, TimeoutError) as error:
            tally.failures[type(error).__name__] += 1
            self.close()
            return True
        tally.note(status, headers, time.perf_counter() - started)
        return True

    async def _exchange(self, raw: bytes) -> tuple[int, bytes]:
        assert self._streams is not None
        reader, writer = self._streams
        writer.write(raw)
        headers = await reader.readuntil(b"\r\n\r\n")
        length = headers.split(b"\r\nContent-Length: ")[1].split(b"\r\n")[0]
        await reader.readexactly(int(length))
        if b"\r\nConnection: close" in headers:
            self.close()
        return int(headers[9:12]), headers

    def close(self) -> None:
        """Close, so that the next request opens a new connection."""
        if self._streams is not None:
            self._streams[1].close()
            self._streams = None


async def closed_loop(port: int, request: Request, connections: int, seconds: float) -> Tally:
    """Each connection asks again as soon as it is answered, until the time is over or nobody listens."""
    tally, raw, end = Tally(), request.raw(), time.perf_counter() + seconds

    async def ask_on() -> None:
        connection = Connection(port)
        while time.perf_counter() < end and await connection.ask(raw, tally):
            pass
        connection.close()

    await asyncio.gather(*(ask_on() for _ in range(connections)))
    return tally


async def open_loop(port: int, request: Request, rate: float, seconds: float, connections: int) -> Tally:
    """Requests start at a fixed rate whether or not earlier ones were answered; at most so many at once."""
    # taken in turn, so that none is idle until the server closes it
    tally, raw, free = Tally(), request.raw(), deque(Connection(port) for _ in range(connections))
    tasks: set[asyncio.Task[None]] = set()

    async def ask_once(connection: Connection) -> None:
        await connection.ask(raw, tally)
        free.append(connection)

    started, sent = time.perf_counter(), 0
    while (now := time.perf_counter() - started) < seconds:
        for _ in range(int(now * rate) - sent):
            sent += 1
            if free:
                task = asyncio.create_task(ask_once(free.popleft()))
                tasks.add(task)
                task.add_done_callback(tasks.discard)
        await asyncio.sleep(0.001)
    await asyncio.gather(*tasks)
    for connection in free:
        connection.close()
    return tally
