"""Broken bodies against the real server, on every route that reads one: 400 or nobody there, and a log of JSON."""

from __future__ import annotations

import json
import socket
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from service.app import create_app
from tests.hostile.broken_bodies import BROKEN, HALF, Broken, reset, send
from tests.wire.serving import Served, served

ROUTES = sorted(rule.rule for rule in create_app().url_map.iter_rules() if "POST" in (rule.methods or ()))
NDJSON = "application/x-ndjson"
RESETS = 100


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all: what one leaves behind, the next one meets."""
    with served(tmp_path_factory.mktemp("broken"), WEB_CONCURRENCY="1", BODY_SECONDS="2") as running:
        yield running


def media_type(route: str) -> str:
    return NDJSON if route == "/v1/batch" else "application/json"


def lines(log: Path) -> list[dict[str, Any]]:
    """The real log, every line of which must be JSON."""
    return [json.loads(line) for line in log.read_text().splitlines()]


def test_there_are_enough_of_both() -> None:
    assert len(BROKEN) >= 24
    assert len(ROUTES) >= 14


@pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken.name.replace(" ", "-"))
def test_a_broken_body_is_the_clients_on_every_route(server: Served, broken: Broken) -> None:
    before = len(lines(server.log))
    for number, route in enumerate(ROUTES):
        answer = send(server.port, route, media_type(route), broken, f"broken-{number}")
        if answer:
            head, _, body = answer.partition(b"\r\n\r\n")
            assert head[:12] in (b"HTTP/1.1 400", b"HTTP/1.1 415"), answer[:300]
            assert b"application/problem+json" in head
            assert json.loads(body)["status"] == int(head[9:12])
        else:
            assert broken.reset
    deadline = time.monotonic() + 5
    while len(written := lines(server.log)[before:]) < len(ROUTES) and time.monotonic() < deadline:
        time.sleep(0.02)
    assert len(written) == len(ROUTES)
    for line in written:
        assert line["status"] in (400, 415, None), line
        assert line["level"] == "info"
        assert (line["status"] is None) == line.get("gone", False)


def test_a_hundred_resets_count_as_no_error(server: Served) -> None:
    for number in range(RESETS):
        with socket.create_connection(("127.0.0.1", server.port), timeout=10) as connection:
            path = ROUTES[number % len(ROUTES)]
            head = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: {media_type(path)}\r\n"
            connection.sendall(head.encode() + b"Content-Length: 900\r\n\r\n" + HALF[: number % len(HALF)])
            time.sleep(0.002 * (number % 3))
            reset(connection)
    time.sleep(1.0)  # the last ones are still noticed
    metrics = server.get("/metrics").content.decode()  # type: ignore[attr-defined]
    assert 'code="5' not in metrics
    gone = sum(float(line.split()[-1]) for line in metrics.splitlines() if line.startswith("clients_gone_total{"))
    assert gone >= RESETS / 2  # the others had vanished before their head was read
    assert not [line for line in lines(server.log) if line["level"] == "error" or "trace" in line]
    assert server.get("/livez").status == 200


def test_a_body_in_a_million_chunks_does_not_keep_the_others_out(server: Served) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=30) as connection:
        head = (
            f"POST /v1/batch HTTP/1.1\r\nHost: x\r\nContent-Type: {NDJSON}\r\nTransfer-Encoding: chunked\r\n\r\n"
        )
        connection.sendall(head.encode())
        connection.settimeout(0.05)
        slowest = 0.0
        for _ in range(20):
            with suppress(OSError):  # it reads as fast as it can
                connection.sendall(b"1\r\n \r\n" * 40_000)
            started = time.monotonic()
            assert server.get("/livez").status == 200
            slowest = max(slowest, time.monotonic() - started)
    assert (
        slowest < 1.0
    )  # a machine that others share; held to the end it would be the whole deadline of two seconds
