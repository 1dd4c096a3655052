"""Servers in processes of their own: started on one core, and what the kernel says of their time and memory."""

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
from pathlib import Path

from service.results.record import Record

HOST = "127.0.0.1"
START_SECONDS = 120.0
"""The property library alone took 21 s to import beside eleven other processes."""
KIB = 1024
SERVER_CORE, LOAD_CORE = min(os.sched_getaffinity(0)), max(os.sched_getaffinity(0))
"""One core for the servers, another for the load; the same one where there is no other."""


class Process(Record):
    """A running server: its parent process, its port and how long it took until it answered [s]."""

    parent: int
    port: int
    ready_seconds: float

    def everyone(self) -> list[int]:
        """Process ids of the parent, its workers, and the helper of each worker, which judges batches."""
        found = [self.parent]
        for process in found:  # grows while it is walked
            found += _children(process)
        return found

    def cpu_seconds(self) -> float:
        """Time on a processor since the start [s], all processes and threads (kernel: sched-stats, field 1)."""
        found = [
            int(path.read_text().split()[0])
            for process in self.everyone()
            for path in Path(f"/proc/{process}/task").glob("*/schedstat")
        ]
        return sum(found) / 1e9

    def serving(self) -> list[int]:
        """Process ids of the parent and its workers, without the helpers beside them."""
        return [self.parent, *_children(self.parent)]

    def proportional_memory(self, processes: list[int]) -> int:
        """Memory with shared pages divided among their users [byte] (kernel: proc, smaps_rollup, Pss)."""
        found = [Path(f"/proc/{process}/smaps_rollup").read_text() for process in processes]
        return sum(int(text.split("Pss:")[1].split()[0]) for text in found) * KIB

    def largest_memory(self) -> int:
        """The most memory that any one of the processes has had so far [byte] (kernel: proc, status, VmHWM)."""
        found = [Path(f"/proc/{process}/status").read_text() for process in self.everyone()]
        return max(int(text.split("VmHWM:")[1].split()[0]) for text in found) * KIB


def _children(process: int) -> list[int]:
    return [int(child) for child in Path(f"/proc/{process}/task/{process}/children").read_text().split()]


def own_memory() -> int:
    """Memory of this process [byte] (kernel: proc, status, VmRSS)."""
    return int(Path("/proc/self/status").read_text().split("VmRSS:")[1].split()[0]) * KIB


def free_port() -> int:
    """A port of this machine's own address that nobody listens on."""
    with socket.create_server((HOST, 0)) as listener:
        return int(listener.getsockname()[1])


@contextmanager
def running(arguments: list[str], cores: set[int], probe: str = "/livez", **environment: str) -> Iterator[Process]:
    """Run `python -m ARGUMENTS`, in which {port} stands for a free port, until the block ends.

    probe: what is asked until it answers; environment: settings beside PATH.
    """
    port = free_port()
    command = [sys.executable, "-m", *(argument.format(port=port) for argument in arguments)]
    started = time.perf_counter()
    child = subprocess.Popen(command, env={"PATH": os.environ["PATH"], **environment}, stdout=subprocess.DEVNULL)
    try:
        os.sched_setaffinity(child.pid, cores)
        _wait_until_ready(child, port, probe, started)
        yield Process(child.pid, port, time.perf_counter() - started)
    finally:
        child.send_signal(signal.SIGINT)
        try:
            child.wait(START_SECONDS)
        except subprocess.TimeoutExpired:  # told while a worker was starting, which then heard nothing of it
            child.kill()
            child.wait()


def _wait_until_ready(child: subprocess.Popen[bytes], port: int, probe: str, started: float) -> None:
    while child.poll() is None and time.perf_counter() - started < START_SECONDS:
        try:
            connection = http.client.HTTPConnection(HOST, port, timeout=10)
            connection.request("GET", probe)
            if connection.getresponse().status in (200, 404):
                return
        except OSError:
            time.sleep(0.01)
        finally:
            connection.close()
    raise RuntimeError(f"a server did not start: {child.args!r}")
