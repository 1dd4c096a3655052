"""The real server in a process of its own, on a free port of this machine."""

from __future__ import annotations

import http.client
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

PATIENCE = 90.0  # s; what is waited for takes one, on a machine with much else to do many
PATIENT = {"QUEUE_MILLISECONDS": "30000"}
"""A machine with much else to do holds a request up for longer than the half second after which it is refused."""
AS_SHIPPED = {"QUEUE_MILLISECONDS": ""}
"""For what is measured or turned away: the server's own patience."""


def until(holds: Callable[[], object], what: str) -> None:
    """Ask again and again, for as long as a busy machine may need; says what it was that did not come about."""
    deadline = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < deadline, f"{what}: not in {PATIENCE:.0f} s"
        time.sleep(0.02)


@dataclass
class Served:
    """A running server: where it listens, its process and what it has written."""

    port: int
    process: subprocess.Popen[bytes]
    log: Path

    def get(self, path: str, port: int | None = None) -> http.client.HTTPResponse:
        """Ask on a connection of its own; the body has been read."""
        return self.request("GET", path, port=port)

    def request(
        self,
        method: str,
        path: str,
        body: bytes | None = None,
        headers: dict[str, str] | None = None,
        port: int | None = None,
    ) -> http.client.HTTPResponse:
        """Send one request; the body of the answer is in `.content`."""
        connection = http.client.HTTPConnection("127.0.0.1", port or self.port, timeout=60)
        try:
            connection.request(method, path, body, headers or {})
            response = connection.getresponse()
            response.content = response.read()  # type: ignore[attr-defined]
            return response
        finally:
            connection.close()

    def workers(self) -> list[int]:
        """Process ids of the workers."""
        return children(self.process.pid)

    def stop(self, seconds: float = PATIENCE) -> int:
        """SIGTERM, and the exit status."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(seconds)


def children(pid: int) -> list[int]:
    """Process ids of a process's children, oldest first."""
    return [int(child) for child in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def free_port() -> int:
    """A port that nobody listens on now; for servers outside a test, that may not set SO_REUSEADDR."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


@contextmanager
def reserved_port() -> Iterator[int]:
    """A port that nobody else is given as long as the block runs, for a server to be started there.

    It is bound and not listened on; a server, which sets SO_REUSEADDR, may listen there all the same (socket(7)).
    Asked for and let go, it could be the next client's before the server has started.
    """
    with socket.socket() as holder:
        holder.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        holder.bind(("127.0.0.1", 0))
        yield int(holder.getsockname()[1])


@contextmanager
def served(
    folder: Path, application: str | None = None, host: str = "127.0.0.1", **environment: str
) -> Iterator[Served]:
    """Run `python -m service serve`, or the given module, until the block ends; patient unless told otherwise."""
    with reserved_port() as port, (folder / f"serve-{port}.log").open("wb") as out:
        process = _start(application or "service", f"{host}:{port}", out, PATIENT | environment)
        running = Served(port, process, Path(out.name))
        try:
            until(lambda: _ready(running), f"the server's start, see {running.log}")
            yield running
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
                process.wait(PATIENCE)


def _start(module: str, bind: str, out: IO[bytes], environment: dict[str, str]) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", module, "serve", "--bind", bind]
    kept = {"PATH": os.environ["PATH"], "PYTHONWARNINGS": "error", **environment}
    return subprocess.Popen(command, env=kept, stdout=out, stderr=subprocess.STDOUT)


def _ready(running: Served) -> bool:
    assert running.process.poll() is None, f"the server did not start:\n{running.log.read_text()}"
    with suppress(OSError):
        return running.get("/livez").status in (200, 404)  # 404: probes are on the second port
    return False
