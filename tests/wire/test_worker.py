"""The worker's own parts: one write for an answer, a body with a deadline, an answer that breaks off."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest
from gunicorn.config import Config
from gunicorn.http.message import Request as ParsedRequest
from gunicorn.http.unreader import IterUnreader

from service.wire.whole_response import WholeResponse
from service.wire.worker import Worker

GET = b"GET /livez HTTP/1.1\r\nHost: x\r\n\r\n"


class Connection:
    """Counts the writes."""

    def __init__(self) -> None:
        self.writes: list[bytes] = []

    def sendall(self, data: bytes) -> None:
        self.writes.append(data)

    def linger(self) -> None:
        pass


def parsed(raw: bytes = GET) -> ParsedRequest:
    """A request as gunicorn hands it to a worker."""
    return ParsedRequest(Config(), IterUnreader(iter([raw])), ("127.0.0.1", 1))


def test_a_short_answer_is_one_write() -> None:
    connection = Connection()
    response = WholeResponse(parsed(), connection, Config())
    response.start_response("200 OK", [("Content-Length", "2")])
    response.write(b"{}")
    response.close()
    assert len(connection.writes) == 1
    assert connection.writes[0].endswith(b"\r\n\r\n{}")


def test_a_streamed_answer_is_one_write_a_piece_and_whole() -> None:
    connection = Connection()
    response = WholeResponse(parsed(), connection, Config())
    response.start_response("200 OK", [("Content-Type", "text/plain")])
    for piece in (b"one", b"three"):
        response.write(piece)
    response.close()
    head, _, body = b"".join(connection.writes).partition(b"\r\n\r\n")
    assert b"Transfer-Encoding: chunked" in head
    assert body == b"3\r\none\r\n5\r\nthree\r\n0\r\n\r\n"
    assert len(connection.writes) == 3


def test_an_answer_without_a_body_is_its_head() -> None:
    connection = Connection()
    response = WholeResponse(parsed(GET.replace(b"GET", b"HEAD")), connection, Config())
    response.start_response("200 OK", [("Content-Length", "2")])
    response.close()
    assert b"".join(connection.writes).endswith(b"Content-Length: 2\r\n\r\n")


def worker_with(application: Any) -> Any:
    """What handle_request needs of a worker, around an application."""
    return SimpleNamespace(
        cfg=Config(), nr=0, max_requests=10, alive=True, wsgi=application,
        log=SimpleNamespace(debug=lambda *_: None),
    )  # fmt: skip


def handled(worker: Any, connection: Any) -> None:
    Worker.handle_request(worker, ("127.0.0.1", 80), parsed(), connection, ("127.0.0.1", 1))


def test_an_answer_that_breaks_off_is_logged_and_its_connection_closed(caplog: pytest.LogCaptureFixture) -> None:
    def application(_: object, start_response: Any) -> Iterator[bytes]:
        start_response("200 OK", [("Content-Type", "text/plain")])
        yield b"first"
        raise RuntimeError("secret")

    worker, connection = worker_with(application), Connection()
    with pytest.raises(StopIteration):
        handled(worker, connection)
    sent = b"".join(connection.writes)
    assert b"first" in sent
    assert not sent.endswith(b"0\r\n\r\n")  # the caller sees that the rest is missing
    assert b"secret" not in sent
    assert [record.message for record in caplog.records] == ["an answer broke off"]


def test_an_exception_before_the_head_is_left_to_the_server() -> None:
    def application(_: object, __: object) -> Iterator[bytes]:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        handled(worker_with(application), Connection())


def test_the_last_request_of_a_worker_closes_its_connection() -> None:
    def application(_: object, start_response: Any) -> list[bytes]:
        start_response("200 OK", [("Content-Length", "2")])
        return [b"{}"]

    worker = worker_with(application)
    worker.nr = 9
    connection = Connection()
    with pytest.raises(StopIteration):
        handled(worker, connection)
    assert worker.alive is False
    assert b"Connection: close" in connection.writes[0]
    near, far = socket.socketpair()
    with near, far:
        worker = worker_with(application)
        handled(worker, near)
        assert b"Connection: keep-alive" in far.recv(1000)
