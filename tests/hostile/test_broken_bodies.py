"""Broken bodies against the real server, on every route that reads one: 400 or nobody there, and a log of JSON."""

from __future__ import annotations

import json
import os
import signal
import socket
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from service.app import create_app
from tests.hostile.broken_bodies import BROKEN, HALF, Broken, reset, send, vanish
from tests.wire.serving import PATIENCE, Served, served, until

ROUTES = sorted(rule.rule for rule in create_app().url_map.iter_rules() if "POST" in (rule.methods or ()))
NDJSON = "application/x-ndjson"
RESETS = 100


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all: what one leaves behind, the next one meets."""
    with served(tmp_path_factory.mktemp("broken"), WEB_CONCURRENCY="1", BODY_SECONDS="60") as running:
        yield running


def media_type(route: str) -> str:
    return NDJSON if route == "/v1/batch" else "application/json"


def lines(log: Path) -> list[dict[str, Any]]:
    """The real log, every line of which must be JSON."""
    return [json.loads(line) for line in log.read_text().rpartition("\n")[0].splitlines()]


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
    until(lambda: len(lines(server.log)) >= before + len(ROUTES), "a line for each")
    written = lines(server.log)[before:]
    assert len(written) == len(ROUTES)
    for line in written:
        assert line["status"] in (400, 415, None), line
        assert line["level"] == "info"
        assert (line["status"] is None) == line.get("gone", False)


def gone(server: Served) -> float:
    """How many clients have vanished, by the server's own count."""
    metrics = server.get("/metrics").content.decode()  # type: ignore[attr-defined]
    return sum(float(line.split()[-1]) for line in metrics.splitlines() if line.startswith("clients_gone_total{"))


def test_a_hundred_resets_count_as_no_error(server: Served) -> None:
    """In turn: at once, where the server may find nothing to read, and when it has asked for the body."""
    before = gone(server)
    for number in range(RESETS):
        path = ROUTES[number % len(ROUTES)]
        head = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: {media_type(path)}\r\nContent-Length: 900\r\n"
        with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as connection:
            connection.sendall(head.encode() + b"\r\n" + HALF[: number % len(HALF)])
            reset(connection)
        with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as connection:
            vanish(connection, head.encode(), HALF[: number % len(HALF)])
    until(lambda: gone(server) - before >= RESETS, "all who are gone counted")
    assert gone(server) - before <= 2 * RESETS
    assert 'code="5' not in server.get("/metrics").content.decode()  # type: ignore[attr-defined]
    assert not [line for line in lines(server.log) if line["level"] == "error" or "trace" in line]
    assert server.get("/livez").status == 200


def test_a_body_in_many_chunks_does_not_keep_the_others_out(server: Served) -> None:
    """The whole body is there when the worker finds both requests; the log tells which it was done with first."""
    (worker,) = server.workers()
    head = f"POST /v1/batch HTTP/1.1\r\nHost: x\r\nContent-Type: {NDJSON}\r\nTransfer-Encoding: chunked\r\n\r\n"
    body = b"1\r\n \r\n" * 30_000 + b"0\r\n\r\n"
    before = len(lines(server.log))
    with socket.socket() as many, socket.socket() as other:
        many.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, 2 * len(body))  # the kernel takes it from there
        for connection in (many, other):
            connection.settimeout(PATIENCE)
            connection.connect(("127.0.0.1", server.port))
        os.kill(worker, signal.SIGSTOP)
        try:
            many.sendall(head.encode() + body)
            other.sendall(b"GET /version HTTP/1.1\r\nHost: x\r\n\r\n")
        finally:
            os.kill(worker, signal.SIGCONT)
        assert other.recv(100).startswith(b"HTTP/1.1 200")
        assert many.recv(100).startswith(b"HTTP/1.1 ")
    until(lambda: len(lines(server.log)) >= before + 2, "a line for each")
    routes = [line["route"] for line in lines(server.log)[before:]]
    assert routes == ["/version", "/v1/batch"]
