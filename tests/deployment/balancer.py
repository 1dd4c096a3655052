"""A real nginx with the shipped configuration balances two instances while one is killed and another is drained.

Only names and ports are replaced, and the rate limit where it is not what is tried, because everything runs on
this machine's own address.
"""

from __future__ import annotations

import asyncio
import os
import signal
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
