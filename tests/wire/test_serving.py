"""The production server itself: start, several workers, drain, stop, slow and hostile clients."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.wire.readiness import MOST_SILENCE
from service.wire.server import KEEP_ALIVE_SECONDS
from tests.wire.serving import PATIENCE, Served, children, reserved_port, served, until


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all tests that leave it as it was."""
    with served(tmp_path_factory.mktemp("serve"), WEB_CONCURRENCY="2", BODY_SECONDS="1") as running:
        until(lambda: len(running.workers()) == 2, "a second worker")  # the first may answer before it is there
        yield running


def talk(port: int, *pieces: bytes, pause: float = 0.0) -> bytes:
    """Send raw bytes; read until the other side closes, or has answered and is silent for two seconds."""
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) as connection:
        for piece in pieces:
            connection.sendall(piece)
            time.sleep(pause)
        answer = b""
        try:
            while chunk := connection.recv(65536):
                answer += chunk
                connection.settimeout(2)
        except (TimeoutError, ConnectionResetError):
            pass  # reset: the server closed without reading the rest, which is its right
        return answer


def test_it_is_alive_ready_and_says_what_it_is(server: Served) -> None:
    assert server.get("/livez").status == 200
    assert server.get("/readyz").status == 200
    version = json.loads(server.get("/version").content)
    assert set(version) == {"service", "contract", "edition", "commit", "knowledge", "properties"}


def test_metrics_add_up_over_the_workers(server: Served) -> None:
    def livez_total() -> float:
        lines = server.get("/metrics").content.decode().splitlines()
        name = 'http_requests_total{code="200",method="GET",route="/livez"}'
        return sum(float(line.split()[-1]) for line in lines if line.startswith(name))

    before = livez_total()
    for _ in range(40):
        server.get("/livez")
    assert livez_total() == before + 40
    text = server.get("/metrics").content.decode()
    assert "workers_started_total 2.0" in text
    assert "http_requests_in_flight_limit 512.0" in text


def test_every_log_line_is_json_and_keys_being_off_is_said(server: Served) -> None:
    server.get("/nowhere")
    lines = [json.loads(line) for line in server.log.read_text().splitlines()]
    assert any(
        line.get("access") == "API keys are off" and line["bind"].startswith("127.0.0.1:") for line in lines
    )
    assert any(line.get("status") == 404 for line in lines)
    assert not [line for line in lines if line["level"] == "error"]


def test_an_explicit_address_is_obeyed_with_one_line_of_warning(tmp_path: Path) -> None:
    with served(tmp_path, host="0.0.0.0", WEB_CONCURRENCY="1") as running:
        lines = [json.loads(line) for line in running.log.read_text().splitlines()]
    assert [line["bind"] for line in lines if line["level"] == "warning"] == [f"0.0.0.0:{running.port}"]
    with served(tmp_path, host="0.0.0.0", WEB_CONCURRENCY="1", API_KEYS=f"a:{'0' * 64}") as running:
        assert '"level":"warning"' not in running.log.read_text()


def test_a_chunked_body_is_read(server: Served) -> None:
    head = b"POST /v1/saturation HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nConnection: close\r\n"
    body = b'{"refrigerant":"R-32","points":[{"pressure":100}]}'
    chunks = b"".join(b"1\r\n%c\r\n" % byte for byte in body) + b"0\r\n\r\n"
    answer = talk(server.port, head + b"Transfer-Encoding: chunked\r\n\r\n" + chunks)
    assert answer.startswith(b"HTTP/1.1 200")


def test_expect_100_continue_is_answered(server: Served) -> None:
    head = b"POST /v1/saturation HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nConnection: close\r\n"
    body = b'{"refrigerant":"R-32","points":[{"pressure":100}]}'
    head += b"Expect: 100-continue\r\nContent-Length: %d\r\n\r\n" % len(body)
    answer = talk(server.port, head, body, pause=0.2)
    assert answer.startswith(b"HTTP/1.1 100 Continue\r\n\r\nHTTP/1.1 200")


@pytest.mark.parametrize(
    "raw",
    [
        b"GET / HTTP/9.9\r\n\r\n",
        b"G@T / HTTP/1.1\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost : x\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\nX: a\x00b\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\nContent-Length: -1\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
        b"POST /livez HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
        b"POST /livez HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n",
        b"GET /" + b"a" * 9000 + b" HTTP/1.1\r\nHost: x\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\n" + b"X: y\r\n" * 200 + b"\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\nX: " + b"y" * 20_000 + b"\r\n\r\n",
        b"GET /livez HTTP/1.1\r\nHost: x\r\nSCRIPT_NAME: /x\r\nTransfer-Encoding: gzip\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\x00" * 50,
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ],
)
def test_hostile_http_is_refused_and_the_workers_survive(server: Served, raw: bytes) -> None:
    workers = server.workers()
    answer = talk(server.port, raw)
    assert answer.startswith((b"HTTP/1.1 4", b"HTTP/1.1 501")) or answer == b""
    for secret in (b"Traceback", b".py", b"27.", b"/work"):
        assert secret not in answer
    assert server.get("/livez").status == 200
    assert server.workers() == workers


def test_a_header_of_a_client_does_not_move_the_path(server: Served) -> None:
    headers = {"Script-Name": "/x", "SCRIPT_NAME": "/livez", "X-Forwarded-Proto": "https", "Path-Info": "/x"}
    assert server.request("GET", "/livez", headers=headers).status == 200


def test_headers_that_never_end_are_cut_off(server: Served) -> None:
    started = time.monotonic()
    with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as connection:
        connection.sendall(b"GET /livez HTTP/1.1\r\nHost: x\r\nX-Slow")
        assert connection.recv(100) == b""
    assert time.monotonic() - started > KEEP_ALIVE_SECONDS - 1


def test_a_body_that_trickles_is_cut_off(server: Served) -> None:
    head = b"POST /v1/saturation HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    answer = talk(server.port, head + b"Content-Length: 5000\r\n\r\n{", b" ", pause=0.6)
    assert answer.startswith(b"HTTP/1.1 408")
    assert b'"code": "request.too-slow"' in answer


def test_a_large_body_is_refused_before_it_is_read(server: Served) -> None:
    head = b"POST /v1/saturation HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    answer = talk(server.port, head + b"Content-Length: 100000000000\r\n\r\n{")
    assert answer.startswith(b"HTTP/1.1 413")


def test_slow_clients_do_not_stop_anybody(server: Served) -> None:
    """Whoever had to wait for one of them would wait until it is cut off."""
    held = [socket.create_connection(("127.0.0.1", server.port)) for _ in range(100)]
    try:
        for number, connection in enumerate(held):
            connection.sendall(b"GET /livez HTTP/1.1\r\nX-Slow: %d" % number)
        assert server.get("/livez").status == 200
        for connection in held:
            with pytest.raises(BlockingIOError):  # still held: nothing said, and not closed
                connection.recv(1, socket.MSG_DONTWAIT)
        assert all(server.get("/livez").status == 200 for _ in range(50))
    finally:
        for connection in held:
            connection.close()


def test_a_connection_that_always_has_a_next_request_does_not_keep_the_others_out(tmp_path: Path) -> None:
    """All that it asks is there when the others ask; the log tells in which order they were served."""
    number = 600
    asked = b"GET /livez HTTP/1.1\r\nHost: x\r\n\r\n" * number
    with (
        served(tmp_path, WEB_CONCURRENCY="1") as running,
        socket.socket() as greedy,
        socket.socket() as other,
    ):
        (worker,) = running.workers()
        greedy.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1 << 21)  # the server must not wait for the reader
        for connection in (greedy, other):
            connection.settimeout(PATIENCE)
            connection.connect(("127.0.0.1", running.port))
        os.kill(worker, signal.SIGSTOP)  # so that it finds both at once
        greedy.sendall(asked)
        other.sendall(b"GET /version HTTP/1.1\r\nHost: x\r\n\r\n")
        os.kill(worker, signal.SIGCONT)
        answers = b""
        while answers.count(b"HTTP/1.1 200") < number:
            more = greedy.recv(65536)
            assert more
            answers += more
        assert other.recv(100).startswith(b"HTTP/1.1 200")
        routes = [json.loads(line).get("route") for line in running.log.read_text().splitlines()]
    assert routes[: routes.index("/version")].count("/livez") < number / 2


def test_the_first_sigterm_drains_and_then_stops_with_exit_status_0(tmp_path: Path) -> None:
    """Asked as soon as it drains: the drain is longer than two answers take on a machine with much else to do."""
    drain = 4
    with served(tmp_path, WEB_CONCURRENCY="2", DRAIN_SECONDS=str(drain)) as running:
        kept = socket.create_connection(("127.0.0.1", running.port))  # idle, must not hold up the stop
        started = time.monotonic()
        running.process.send_signal(signal.SIGTERM)
        until(lambda: '"draining for' in running.log.read_text(), "the drain")
        ready = running.get("/readyz")
        assert (ready.status, ready.getheader("Retry-After")) == (503, "5")
        served_on = running.get("/v1/problems")
        assert (served_on.status, served_on.getheader("Connection")) == (200, "close")
        assert running.process.wait(PATIENCE) == 0
        assert time.monotonic() - started >= drain
        kept.close()
        assert not [line for line in running.log.read_text().splitlines() if '"level":"error"' in line]


def test_the_second_sigterm_stops_at_once(tmp_path: Path) -> None:
    with served(tmp_path, WEB_CONCURRENCY="1", DRAIN_SECONDS="300") as running:
        running.process.send_signal(signal.SIGTERM)
        until(lambda: '"draining for' in running.log.read_text(), "the drain")
        assert running.stop(PATIENCE) == 0  # long before the drain is over


def test_a_killed_worker_is_replaced(tmp_path: Path) -> None:
    with served(tmp_path, WEB_CONCURRENCY="2") as running:
        before = running.workers()
        os.kill(before[0], signal.SIGKILL)
        until(lambda: len(set(running.workers()) - {before[0]}) == 2, "a worker in its place")
        assert running.get("/readyz").status == 200


def test_probes_on_a_second_port(tmp_path: Path) -> None:
    with (
        reserved_port() as port,
        served(tmp_path, WEB_CONCURRENCY="1", OPERATIONS_BIND=f"127.0.0.1:{port}") as running,
    ):
        assert running.get("/metrics").status == 404
        assert running.get("/metrics", port=port).status == 200
        assert running.get("/v1/problems").status == 200
        assert running.get("/v1/problems", port=port).status == 404


def test_probes_on_the_second_port_are_answered_while_no_worker_computes_or_lives(tmp_path: Path) -> None:
    """The worker stands still; it is asked for ten seconds after its last heartbeat, and again when it beats."""

    def ready() -> int:
        return running.get("/readyz", port=port).status

    with (
        reserved_port() as port,
        served(tmp_path, WEB_CONCURRENCY="1", OPERATIONS_BIND=f"127.0.0.1:{port}") as running,
    ):
        until(lambda: len(running.workers()) == 2, "the process that answers probes")
        (worker,) = (pid for pid in running.workers() if children(pid))  # the one with a helper
        assert "workers_started_total 1.0" in running.get("/metrics", port=port).content.decode()
        beaten = time.monotonic()
        until(ready, "a first probe")
        os.kill(worker, signal.SIGSTOP)  # as if it computed for ever
        try:
            assert running.get("/livez", port=port).status == 200
            until(lambda: ready() == 503, "silence noticed")
            assert time.monotonic() - beaten > MOST_SILENCE / 2
            assert json.loads(running.get("/readyz", port=port).content)["code"] == "server.not-ready"
            assert running.get("/livez", port=port).status == 200
        finally:
            os.kill(worker, signal.SIGCONT)
        until(lambda: ready() == 200, "the heartbeat heard again")


def test_it_needs_no_home_and_leaves_no_counters_behind(tmp_path: Path) -> None:
    folder = tmp_path / "metrics"
    folder.mkdir()
    (folder / "counter_1.db").write_bytes(b"left over")
    (folder / "kept.txt").write_text("not a counter")
    with served(tmp_path, WEB_CONCURRENCY="1", METRICS_DIRECTORY=str(folder), HOME="/nowhere") as running:
        assert running.get("/metrics").status == 200
        assert not (folder / "counter_1.db").exists()
        assert (folder / "kept.txt").exists()
        assert running.stop() == 0


def test_a_port_that_is_taken_ends_the_start(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        command = [
            os.sys.executable,
            "-m",
            "service",
            "serve",
            "--bind",
            f"127.0.0.1:{taken.getsockname()[1]}",
        ]
        done = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, check=False)
        assert done.returncode != 0
        assert "Traceback" not in done.stdout + done.stderr
