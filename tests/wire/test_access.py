"""API keys, the second port, and turning work away."""

from __future__ import annotations

import hashlib
import hmac
import re
import socket
import time

import pytest

from service.app import create_app
from service.settings import Settings
from service.wire import admission, readiness
from service.wire.admission import waited_milliseconds
from tests.wire.conftest import make_app

KEY, OTHER = "k-7f1c", "other"
DIGESTS = {hashlib.sha256(key.encode()).hexdigest(): name for key, name in ((KEY, "dispatch"), (OTHER, "office"))}
KEYS = frozenset(f"{name}:{digest}" for digest, name in DIGESTS.items())
PROBES = ["/livez", "/readyz", "/version", "/metrics"]


@pytest.mark.parametrize("key", [KEY, OTHER])
def test_a_known_key_opens(key: str) -> None:
    client = make_app(api_keys=KEYS).test_client()
    assert client.get("/v1/problems", headers={"X-Api-Key": key}).status_code == 200


@pytest.mark.parametrize("key", [None, "", "wrong", KEY + " x", *sorted(DIGESTS), "é", "x" * 5000])
@pytest.mark.parametrize("path", ["/v1/problems", "/nowhere", "/test/echo"])
def test_without_a_known_key_nothing_opens(key: str | None, path: str) -> None:
    client = make_app(api_keys=KEYS).test_client()
    response = client.get(path, headers={} if key is None else {"X-Api-Key": key})
    assert response.status_code == 401
    assert response.headers["WWW-Authenticate"] == 'ApiKey header="X-Api-Key"'
    assert response.json["code"] == "request.key-required"


@pytest.mark.parametrize("path", PROBES)
def test_probes_need_no_key(path: str) -> None:
    assert make_app(api_keys=KEYS).test_client().get(path).status_code == 200


def test_every_digest_is_compared_in_constant_time(monkeypatch: pytest.MonkeyPatch) -> None:
    compared: list[tuple[bytes, bytes]] = []
    genuine = hmac.compare_digest
    monkeypatch.setattr(hmac, "compare_digest", lambda a, b: compared.append((a, b)) or genuine(a, b))
    client = make_app(api_keys=KEYS).test_client()
    assert client.get("/v1/problems", headers={"X-Api-Key": KEY}).status_code == 200
    assert {b.hex() for _, b in compared} == set(DIGESTS)


def test_only_probes_the_contract_its_pages_and_the_root_ask_for_no_key() -> None:
    app = create_app(Settings(api_keys=KEYS))
    client = app.test_client()
    without = set()
    for rule in app.url_map.iter_rules():
        for method in (rule.methods or set()) & {"GET", "POST"}:
            path = re.sub(r"<[^>]*>", "x", rule.rule)
            if client.open(path, method=method).status_code != 401:
                without.add(rule.rule.split("/")[1])
    assert without == {*(probe[1:] for probe in PROBES), "openapi.json", "docs", ""}  # the root


def test_second_port_serves_probes_and_nothing_else() -> None:
    client = make_app(operations_bind="127.0.0.1:9100").test_client()
    for path in PROBES:
        assert client.get(path, environ_overrides={"SERVER_PORT": "9100"}).status_code == 200
        assert client.get(path, environ_overrides={"SERVER_PORT": "8080"}).status_code == 404
    assert client.get("/v1/problems", environ_overrides={"SERVER_PORT": "9100"}).status_code == 404
    assert client.get("/v1/problems", environ_overrides={"SERVER_PORT": "8080"}).status_code == 200
    # what a client writes into Host does not choose the port
    forged = client.get("/metrics", headers={"Host": "x:9100"}, environ_overrides={"SERVER_PORT": "8080"})
    assert forged.status_code == 404


def test_ready_turns_away_while_draining_and_alive_does_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readiness, "_FLAG", bytearray(1))
    client = make_app().test_client()
    assert client.get("/readyz").json == {"status": "ready"}
    readiness.start_draining()
    response = client.get("/readyz")
    assert (response.status_code, response.json["code"]) == (503, "server.draining")
    assert int(response.headers["Retry-After"]) > 0
    assert client.get("/livez").status_code == 200
    assert "service_draining 1.0" in client.get("/metrics").text


def test_ready_tells_wrong_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readiness, "_known_sum", lambda: False)
    response = make_app().test_client().get("/readyz")
    assert (response.status_code, response.json["code"]) == (503, "server.not-ready")


def test_more_than_the_limit_in_flight_is_turned_away() -> None:
    client = make_app(in_flight_limit=2).test_client()
    held = [client.get("/test/stream", buffered=False) for _ in range(2)]
    response = client.get("/v1/problems")
    assert (response.status_code, response.json["code"]) == (503, "server.full")
    assert response.headers["Retry-After"] == "1"
    assert client.head("/v1/problems").data == b""
    assert client.get("/livez").status_code == 200
    for answer in reversed(held):
        answer.close()
    assert client.get("/v1/problems").status_code == 200


def test_a_request_that_has_waited_too_long_is_turned_away(monkeypatch: pytest.MonkeyPatch) -> None:
    """The kernel's own clock: what has waited as long as a test takes is let in by a patient service alone."""
    # No event loop tells the pace of turns here: after all other tests its queue would seem to stand.
    monkeypatch.setattr(admission.PACE, "stands", False)
    monkeypatch.setattr(admission.PACE, "_in_a_row", 0)
    patient, impatient = (make_app(queue_milliseconds=longest).test_client() for longest in (60_000, 100))
    near, far = socket.socketpair()
    listener = socket.create_server(("127.0.0.1", 0))
    with near, far, listener, socket.create_connection(listener.getsockname()) as sender:
        receiver, _ = listener.accept()
        with receiver:
            before = time.monotonic()
            sender.sendall(b"x")
            time.sleep(0.25)
            waited = waited_milliseconds(receiver)
            assert 150 < waited < (time.monotonic() - before) * 1000 + 50
            arrived = {"gunicorn.socket": receiver}
            assert impatient.get("/v1/problems", environ_overrides=arrived).status_code == 503
            assert patient.get("/v1/problems", environ_overrides=arrived).status_code == 200
            assert impatient.get("/livez", environ_overrides=arrived).status_code == 200
        assert waited_milliseconds(near) == 0  # not TCP: the kernel does not tell


class Turns:
    """A pace, and a clock that the test moves: so many milliseconds that the loop had to wait for a turn."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now = 100.0
        monkeypatch.setattr(admission, "monotonic", lambda: self.now)
        self.pace = admission.Pace()
        self.pace.processor_milliseconds = 3.0
        self.door = admission.Admission(lambda *_: [], 9, 200, self.pace)

    def take(self, *requests: int, waited: float = 0.0) -> bool:
        """Turns with so many requests each; whether the queue stands at the end of the last."""
        for number in requests:
            self.pace.wait()
            self.now += waited / 1000
            self.pace.turn()
            for _ in range(number):
                self.pace.request()
        return self.pace.stands


def test_a_burst_may_wait_as_long_as_is_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    turns = Turns(monkeypatch)
    assert not turns.take(1, 5, 14)
    assert turns.door._allowed_milliseconds == 200


def test_a_burst_of_short_requests_may_have_more_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    turns = Turns(monkeypatch)
    turns.pace.processor_milliseconds = 0.5
    assert not turns.take(17, 103)
    assert turns.take(1)  # 60.5 ms of work


def test_a_few_requests_at_a_time_are_no_queue_however_long_it_lasts(monkeypatch: pytest.MonkeyPatch) -> None:
    assert not Turns(monkeypatch).take(*[16] * 1000)


def test_a_queue_that_outlasts_a_burst_stands_until_the_loop_runs_dry(monkeypatch: pytest.MonkeyPatch) -> None:
    turns = Turns(monkeypatch)
    assert turns.take(17, 4)
    assert turns.take(1)  # the youngest of the next turn: few, but the queue was not empty
    assert not turns.take(0, 0, 20)  # a turn without any request
    assert turns.take(1)
    assert turns.take(1, waited=0.9)
    assert not turns.take(0, waited=1.1)  # a turn that the loop had to wait for
    assert not turns.take(20)


def test_a_queue_that_is_back_at_once_has_had_its_burst(monkeypatch: pytest.MonkeyPatch) -> None:
    turns = Turns(monkeypatch)
    assert turns.take(30)
    assert turns.take(1, waited=1.1)
    assert not turns.take(0, 0, 20)


def test_in_a_standing_queue_the_wait_follows_the_service_time(monkeypatch: pytest.MonkeyPatch) -> None:
    turns = Turns(monkeypatch)
    assert turns.take(30)
    for milliseconds, allowed in ((0.5, 20), (5.0, 40), (15.0, 120), (90.0, 200)):
        for _ in range(200):
            turns.pace.served(milliseconds, 1.0)
        assert turns.door._allowed_milliseconds == pytest.approx(allowed, rel=1e-3)


def test_only_an_uninterrupted_request_tells_the_service_time(monkeypatch: pytest.MonkeyPatch) -> None:
    pace = admission.Pace()
    now = [100.0]
    monkeypatch.setattr(admission, "monotonic", lambda: now[0])

    def application(environ: dict[str, bool], _: object) -> list[bytes]:
        now[0] += 0.016
        if environ["interrupted"]:
            pace.turn()
        return []

    door = admission.Admission(application, 9, 200, pace)
    for interrupted, service in ((True, 0.0), (False, 1.0)):  # 16 ms count for a sixteenth
        door._timed({"interrupted": interrupted}, lambda *_: None)  # type: ignore[arg-type]
        assert pace.service_milliseconds == pytest.approx(service)
