"""A real nginx with the shipped configuration balances two instances while one is killed and another is drained.

Then its limits are tried, and what it refuses itself.
"""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from service.words.refusing import problem_title
from tests.deployment.proxy import HEAVY, RATE, digest_line, proxied, until_answered
from tests.deployment.tools import check, require
from tests.faults.load import Request, Tally, closed_loop, open_loop
from tests.faults.rows import SMALL
from tests.wire.serving import Served, free_port, served

KEYS = {"loud": ("loud-one", "loud-two"), "calm": ("calm-one",), "drawing": ("drawing-one",)}
"""Callers and their keys; one has two, as while a key is being changed."""


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
                with proxied(folder, port, first.port, second.port):
                    asyncio.run(_try(port, first, second, what, take_away))
    _limit_one_caller()
    return 0


def _limit_one_caller() -> None:
    with tempfile.TemporaryDirectory(prefix="balancer-") as name:
        folder, port = Path(name), free_port()
        keys = folder / "keys"
        keys.write_text("".join(digest_line(name, key) for name, given in KEYS.items() for key in given))
        with (
            served(folder, WEB_CONCURRENCY="1") as instance,
            proxied(folder, port, instance.port, instance.port, rate=RATE, keys=keys),
        ):
            asyncio.run(until_answered(port))
            tally = asyncio.run(open_loop(port, Request("GET", "/v1/problems"), 600, 3, 200))
            limited, passed = tally.statuses[429], tally.statuses[200] + tally.statuses[503]
            check(
                limited > 0 and tally.failed == 0 and not tally.without_retry_after and passed >= 400,
                f"one caller at 600/s: {passed} let through, {limited} told to slow down, each with Retry-After",
            )
            asyncio.run(_callers_by_name(port))
            asyncio.run(_a_key_taken_away(port, keys))
            _problem_documents(port)
            _kill(instance)
            instance.process.wait(10)
            tally = asyncio.run(closed_loop(port, Request("GET", "/v1/problems"), 1, 0.5))
            said = {503} <= set(tally.statuses) <= {429, 503} and not tally.without_retry_after
            check(
                said and not tally.failed,
                f"no replica left: {tally.statuses[503]} x 503 with Retry-After {_others(tally)}".strip(),
            )


def _by_key(key: str) -> Request:
    """What costs a replica nothing, so that only the limits of the proxy are met."""
    return Request("GET", "/livez", headers=f"X-Api-Key: {key}\r\n")


async def _callers_by_name(port: int) -> None:
    """One caller floods with two keys and is one caller; another from the same address is served as if alone."""
    asked = [("loud-one", 300), ("loud-two", 300), ("calm-one", 20)]
    first, second, calm = await asyncio.gather(
        *(open_loop(port, _by_key(key), rate, 6, 60) for key, rate in asked)
    )
    limited = first.statuses[429] + second.statuses[429]
    let_through = first.statuses[200] + second.statuses[200]
    check(
        limited > 0 and 0 < let_through < 1900 and not calm.statuses[429] and calm.statuses[200] > 80,
        f"two keys of one name at 600/s together: {let_through} let through, {limited} limited; none of the calm "
        f"caller's {calm.statuses[200]}",
    )
    drawn = Request("POST", "/v1/chart", b"{}", headers="X-Api-Key: drawing-one\r\n")
    tally = await open_loop(port, drawn, 60, 2, 100)
    check(tally.statuses[429] > 60, f"of 120 drawings {tally.statuses[429]} are told to slow down ({HEAVY})")


async def _a_key_taken_away(port: int, keys: Path) -> None:
    """Keys that no line has share the limit of their address; a key taken away is one of them at once."""
    keys.write_text(keys.read_text().replace("calm:", "#calm:"))
    names = [f"made-up-{number}" for number in range(3)] + ["calm-one"]
    found = await asyncio.gather(*(open_loop(port, _by_key(key), 200, 3, 60) for key in names))
    limited = sum(tally.statuses[429] for tally in found)
    check(
        limited > 0 and found[-1].statuses[429] > 0,
        f"keys made up, and one that was taken away, at 800/s: {limited} told to slow down, as one address",
    )


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
        head, said = _answered(port, raw)
        found = (int(head[9:12]), said.get("code"), said.get("status"))
        check(found == (status, code, status), f"{what} is answered by nginx as {status} {code} ({found})")
    large = b"POST /v1/batch HTTP/1.1\r\nHost: x\r\nAccept-Language: es-MX\r\nContent-Length: 9000000\r\n\r\n"
    head, said = _answered(port, large)
    check(
        said["title"] == problem_title("request.too-large", "es") and b"Content-Language: es" in head,
        "and in Spanish to whoever asks in Spanish",
    )


def _answered(port: int, raw: bytes) -> tuple[bytes, dict[str, Any]]:
    """Head and problem document of the answer to some bytes; nothing where it is no problem document."""
    with socket.create_connection(("127.0.0.1", port), timeout=10) as connection:
        connection.sendall(raw)
        connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    head, _, body = answer.partition(b"\r\n\r\n")
    return head, json.loads(body) if b"application/problem+json" in head else {}


def _drain(instance: Served) -> None:
    instance.process.send_signal(signal.SIGTERM)


def _kill(instance: Served) -> None:
    for pid in (instance.process.pid, *instance.workers()):
        os.kill(pid, signal.SIGKILL)


async def _try(port: int, first: Served, second: Served, what: str, take_away: Callable[[Served], None]) -> None:
    await until_answered(port)
    _count("both instances up", await closed_loop(port, SMALL, 8, 2))
    shares = [_served_by(instance) for instance in (first, second)]
    # The one with fewer open requests is asked: where processors are short, that is whichever has one.
    check(min(shares) > 0.02 * sum(shares), f"both had their share: {shares[0]} and {shares[1]}")
    load = asyncio.create_task(closed_loop(port, SMALL, 8, 10))
    await asyncio.sleep(1)
    take_away(first)
    status = await asyncio.to_thread(first.process.wait, 20)
    check(status == (0 if take_away is _drain else -signal.SIGKILL), f"one instance {what}, status {status}")
    _count(f"while one instance was {what}", await load)


def _served_by(instance: Served) -> int:
    return instance.log.read_text().count('"route":"/v1/saturation"')


def _count(what: str, tally: Tally) -> None:
    answered = tally.statuses[200]
    lost = sum(tally.statuses.values()) - answered + tally.failed + tally.refused_connections
    check(lost == 0 and answered > 100, f"{what}: {answered} answered, {lost} lost {_others(tally)}".strip())


def _others(tally: Tally) -> str:
    others = {**tally.statuses, **tally.failures}
    others.pop(200, None)
    return str(others or "")


if __name__ == "__main__":
    raise SystemExit(main())
