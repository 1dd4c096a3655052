"""A real nginx with the shipped configuration balances two instances while one is killed and another is drained.

Only names and ports are replaced, and the rate limit where it is not what is tried, because everything runs on
this machine's own address.
"""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.deployment.tools import TOP, Failed, check, require, run
from tests.faults.load import Request, Tally, closed_loop, open_loop
from tests.faults.rows import SMALL
from tests.wire.serving import Served, free_port, served

RATE = "rate=200r/s"
"""The shipped limit of one caller."""
HEAVY = "rate=5r/s"
"""The shipped limit of one caller's drawings and batches."""


def main() -> int:
    """Two instances behind nginx, requests poured in, one instance taken away: once drained, once killed.

    Then one caller alone, with the shipped rate limit.
    """
    require("nginx")
    for what, take_away in (("drained", _drain), ("killed", _kill)):
        with tempfile.TemporaryDirectory(prefix="balancer-") as name:
            folder = Path(name)
            with served(folder, WEB_CONCURRENCY="1") as first, served(folder, WEB_CONCURRENCY="1") as second:
                port = free_port()
                process = _start(folder, port, first.port, second.port)
                try:
                    asyncio.run(_try(port, first, second, what, take_away))
                finally:
                    process.terminate()
                    process.wait(10)
    _limit_one_caller()
    return 0


def _limit_one_caller() -> None:
    with (
        tempfile.TemporaryDirectory(prefix="balancer-") as name,
        served(Path(name), WEB_CONCURRENCY="1") as instance,
    ):
        port = free_port()
        process = _start(Path(name), port, instance.port, instance.port, rate=RATE)
        try:
            asyncio.run(_until_answered(port))
            tally = asyncio.run(open_loop(port, Request("GET", "/v1/problems"), 600, 3, 200))
            limited, passed = tally.statuses[429], tally.statuses[200] + tally.statuses[503]
            check(
                limited > 0 and tally.failed == 0 and not tally.without_retry_after and passed >= 400,
                f"one caller at 600/s: {passed} let through, {limited} told to slow down, each with Retry-After",
            )
            asyncio.run(_two_callers(port))
            _problem_documents(port)
            _kill(instance)
            instance.process.wait(10)
            tally = asyncio.run(closed_loop(port, Request("GET", "/v1/problems"), 1, 0.5))
            said = {503} <= set(tally.statuses) <= {429, 503} and not tally.without_retry_after
            check(
                said and not tally.failed,
                f"no replica left: {tally.statuses[503]} x 503 with Retry-After {_others(tally)}".strip(),
            )
        finally:
            process.terminate()
            process.wait(10)


async def _two_callers(port: int) -> None:
    """One caller by its key floods, another one from the same address is served as if it were alone."""
    listed = [Request("GET", "/v1/problems", headers=f"X-Api-Key: {name}\r\n") for name in ("loud", "calm")]
    loud, calm = await asyncio.gather(
        *(open_loop(port, each, rate, 3, 200) for each, rate in zip(listed, (600, 20), strict=True))
    )
    check(
        loud.statuses[429] > 0 and not calm.statuses[429] and calm.statuses[200] > 40,
        f"{loud.statuses[429]} of the loud caller are limited, none of the calm one's {calm.statuses[200]}",
    )
    drawn = Request("POST", "/v1/chart", b"{}", headers="X-Api-Key: drawing\r\n")
    tally = await open_loop(port, drawn, 60, 2, 100)
    check(tally.statuses[429] > 60, f"of 120 drawings {tally.statuses[429]} are told to slow down ({HEAVY})")


def _problem_documents(port: int) -> None:
    """What nginx refuses itself is a problem document of the contract."""
    for what, raw, status, code in (
        (
            "a body of 9 MB",
            b"POST /v1/batch HTTP/1.1\r\nHost: x\r\nContent-Length: 9000000\r\n\r\n",
            413,
            "request.too-large",
        ),
        (
            "a header that cannot be read",
            b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
            400,
            "request.malformed",
        ),
        ("a line of 40 kB", b"GET /" + b"a" * 40_000 + b" HTTP/1.1\r\nHost: x\r\n\r\n", 400, "request.malformed"),
    ):
        with socket.create_connection(("127.0.0.1", port), timeout=10) as connection:
            connection.sendall(raw)
            connection.shutdown(socket.SHUT_WR)
            answer = b"".join(iter(lambda: connection.recv(65536), b""))
        head, _, body = answer.partition(b"\r\n\r\n")
        said = json.loads(body) if b"application/problem+json" in head else {}
        found = (int(head[9:12]), said.get("code"), said.get("status"))
        check(found == (status, code, status), f"{what} is answered by nginx as {status} {code} ({found})")


def _drain(instance: Served) -> None:
    instance.process.send_signal(signal.SIGTERM)


def _kill(instance: Served) -> None:
    for pid in (instance.process.pid, *instance.workers()):
        os.kill(pid, signal.SIGKILL)


def _start(folder: Path, port: int, *instances: int, rate: str = "rate=9000r/s") -> subprocess.Popen[bytes]:
    text = (TOP / "docker/nginx/nginx.conf").read_text()
    for name, instance in zip(("service-a:8080", "service-b:8080"), instances, strict=True):
        text = text.replace(name, f"127.0.0.1:{instance}")
    text = text.replace("listen 8080", f"listen 127.0.0.1:{port}").replace(RATE, rate)
    if rate != RATE:
        text = text.replace("rate=1000r/s", rate)
    text = text.replace("/tmp/", f"{folder}/")
    settings = folder / "nginx.conf"
    settings.write_text(text)
    run("nginx", "-t", "-q", "-e", "stderr", "-c", settings)
    command = ["nginx", "-e", "stderr", "-c", str(settings), "-g", "daemon off;"]
    return subprocess.Popen(command, stderr=(folder / "nginx.log").open("wb"))


async def _try(port: int, first: Served, second: Served, what: str, take_away: Callable[[Served], None]) -> None:
    await _until_answered(port)
    _count("both instances up", await closed_loop(port, SMALL, 8, 2))
    shares = [_served_by(instance) for instance in (first, second)]
    check(min(shares) > 0.2 * sum(shares), f"both had their share: {shares[0]} and {shares[1]}")
    load = asyncio.create_task(closed_loop(port, SMALL, 8, 10))
    await asyncio.sleep(1)
    take_away(first)
    status = await asyncio.to_thread(first.process.wait, 20)
    check(status == (0 if take_away is _drain else -signal.SIGKILL), f"one instance {what}, status {status}")
    _count(f"while one instance was {what}", await load)


async def _until_answered(port: int) -> None:
    deadline = time.monotonic() + 10
    while time.monotonic() < deadline:
        tally = await closed_loop(port, Request("GET", "/v1/problems"), 1, 0.01)
        if tally.statuses[200]:
            return
        await asyncio.sleep(0.1)
    raise Failed("nginx did not answer")


def _served_by(instance: Served) -> int:
    return instance.log.read_text().count('"route":"/v1/saturation"')


def _count(what: str, tally: Tally) -> None:
    answered = tally.statuses[200]
    lost = sum(tally.statuses.values()) - answered + tally.failed + tally.refused_connections
    check(lost == 0 and answered > 500, f"{what}: {answered} answered, {lost} lost {_others(tally)}".strip())


def _others(tally: Tally) -> str:
    others = {**tally.statuses, **tally.failures}
    others.pop(200, None)
    return str(others or "")


if __name__ == "__main__":
    raise SystemExit(main())
