"""The real server in a process of its own, on a free port of this machine."""

from __future__ import annotations

import http.client
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO

READY_SECONDS = 90.0  # it starts in one; a machine with much else to do takes longer


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
        return [
            int(pid)
            for pid in Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text().split()
        ]

    def stop(self, seconds: float = 20.0) -> int:
        """SIGTERM, and the exit status."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(seconds)


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


@contextmanager
def served(
    folder: Path, application: str | None = None, host: str = "127.0.0.1", **environment: str
) -> Iterator[Served]:
    """Run `python -m service serve`, or the given module instead, until the block ends."""
    port = free_port()
    log = folder / f"serve-{port}.log"
    with log.open("wb") as out:
        process = _start(application or "service", f"{host}:{port}", out, environment)
        running = Served(port, process, log)
        try:
            _wait_until_ready(running)
            yield running
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
                process.wait(20)


def _start(module: str, bind: str, out: IO[bytes], environment: dict[str, str]) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", module, "serve", "--bind", bind]
    kept = {"PATH": os.environ["PATH"], "PYTHONWARNINGS": "error", **environment}
    return subprocess.Popen(command, env=kept, stdout=out, stderr=subprocess.STDOUT)


def _wait_until_ready(running: Served) -> None:
    deadline = time.monotonic() + READY_SECONDS
    while time.monotonic() < deadline and running.process.poll() is None:
        try:
            if running.get("/livez").status in (200, 404):  # 404: probes are on the second port
                return
        except OSError:
            time.sleep(0.02)
    raise AssertionError(f"the server did not start:\n{running.log.read_text()}")
