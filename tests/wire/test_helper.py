"""Heavy work in a process of its own: pieces in turn, a cap, what is weighed away, and its end."""

from __future__ import annotations

import json
import os
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from service.wire import drawn, heavy, helper
from service.wire.heavy import Piece
from service.wire.helper import Helper
from service.wire.problems import ProblemError
from service.wire.warm import typical_visit
from tests.wire.conftest import make_app
from tests.wire.serving import Served, children, served, until

PAGE = {"Accept": "text/html"}


def drawing(seconds: float = 0.0) -> Any:
    def job(given: Any, *_: Any) -> Iterator[Piece]:
        time.sleep(seconds)
        yield Piece(str(given).encode(), True)

    return job


def test_drawing_beyond_what_may_wait_is_told_to_come_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(heavy.JOBS, "note", drawing())
    monkeypatch.setattr(helper, "DRAWING_WAIT_SECONDS", 0.5)
    asked = Helper()
    job = asked.run("note", 1, "en", "id")
    next(job)  # drawn, and not yet done with
    with pytest.raises(ProblemError) as caught:
        next(asked.run("note", 6, "en", "id"))
    assert (caught.value.kind.code, dict(caught.value.headers)) == ("server.full", {"Retry-After": "2"})
    job.close()
    assert next(asked.run("note", 7, "en", "id"))[0].body == b"7"


def test_batches_are_weighed_by_number_and_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(*_: Any) -> Iterator[Piece]:
        while True:
            yield Piece(b"x", False)

    monkeypatch.setitem(heavy.JOBS, "batch", endless)
    for size, most in ((1, helper.MOST_BATCHES), (8 * 1024 * 1024, 4)):
        asked = Helper()
        open_batches = [asked.run("batch", b"x" * size, "en", "id") for _ in range(most)]
        for batch in open_batches:
            next(batch)
        with pytest.raises(ProblemError):
            next(asked.run("batch", b"x" * size, "en", "id"))
        open_batches.pop().close()
        assert next(asked.run("batch", b"x" * size, "en", "id"))[0].body == b"x"
        for batch in open_batches:
            batch.close()
    assert not helper._OPEN  # what was given up is forgotten


def test_a_defect_is_logged_and_is_no_answer(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: Any) -> Iterator[Piece]:
        raise ArithmeticError
        yield

    monkeypatch.setitem(heavy.JOBS, "chart", broken)
    with pytest.raises(ProblemError) as caught:
        next(Helper().run("chart", {}, "en", "the-id"))
    assert caught.value.kind.code == "server.internal-error"
    assert [record.request_id for record in caplog.records] == ["the-id"]  # type: ignore[attr-defined]


def test_a_drawing_is_kept_by_the_digest_of_its_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted by how often the drawing is begun: what a request costs says more of the machine."""
    begun = []
    note = heavy.JOBS["note"]
    monkeypatch.setitem(heavy.JOBS, "note", lambda *given: begun.append(given) or note(*given))
    monkeypatch.setattr(drawn, "KEPT", drawn.Kept())
    client = make_app().test_client()
    first, again = (client.post("/v1/assessment", json=typical_visit(), headers=PAGE) for _ in range(2))
    assert first.status_code == 200
    assert first.data == again.data
    assert first.headers["Content-Security-Policy"] == again.headers["Content-Security-Policy"]
    assert len(begun) == 1
    other = client.post("/v1/assessment", json=typical_visit() | {"reference": "other"}, headers=PAGE)
    assert other.data != first.data
    assert len(begun) == 2


def test_what_is_kept_is_bounded_and_let_go(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = drawn.Kept()
    for number in range(100):
        kept.keep(bytes([number]), Piece(b"x", True))
    assert [kept.find(bytes([number])) is None for number in (67, 68)] == [True, False]
    for number in range(3):
        kept.keep(bytes([200 + number]), Piece(b"x" * 3_000_000, True))
    assert kept.find(bytes([200])) is None
    assert kept.find(bytes([202])) is not None
    monkeypatch.setattr(time, "monotonic", lambda real=time.monotonic: real() + drawn.KEPT_SECONDS + 1)
    assert kept.find(bytes([202])) is None


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("helper"), WEB_CONCURRENCY="1") as running:
        yield running


def has_ended(pid: int) -> bool:
    """Whether a process is gone, or only waits for its parent to notice."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except (FileNotFoundError, ProcessLookupError):
        return True


def note(server: Served, reference: str) -> Any:
    body = json.dumps(typical_visit() | {"reference": reference}).encode()
    return server.request("POST", "/v1/assessment", body, {"Content-Type": "application/json", **PAGE})


def test_probes_are_answered_beside_drawing(server: Served) -> None:
    """While the process that draws stands still in the middle of a drawing, the worker answers.

    It is given up after `LONGEST_SECONDS`; a few probes are answered before on a busy machine, too.
    """
    (worker,) = server.workers()
    (drawing_process,) = children(worker)
    note(server, "first")  # loads what draws
    answers: list[int] = []
    asking = threading.Thread(target=lambda: answers.append(note(server, "held").status))
    os.kill(drawing_process, signal.SIGSTOP)
    try:
        asking.start()
        # the drawing, and the request that asks
        until(lambda: b"http_requests_in_flight 2.0" in server.get("/metrics").content, "a drawing under way")
        assert [server.get("/readyz").status for _ in range(3)] == [200] * 3
        assert answers == []
    finally:
        with suppress(ProcessLookupError):
            os.kill(drawing_process, signal.SIGCONT)
    asking.join()
    assert answers == [200]


def test_a_worker_whose_helper_dies_is_replaced_and_nobody_else_notices(server: Served) -> None:
    (worker,) = server.workers()
    os.kill(children(worker)[0], signal.SIGKILL)
    lost = note(server, "lost")
    assert (lost.status, lost.getheader("Retry-After")) == (503, "1")
    until(lambda: set(server.workers()) - {worker}, "another worker")
    assert note(server, "again").status == 200
    for line in server.log.read_text().splitlines():
        assert "trace" not in json.loads(line)


def test_the_helper_ends_with_its_worker(tmp_path: Path) -> None:
    with served(tmp_path, WEB_CONCURRENCY="1") as running:
        (worker,) = running.workers()
        (beside,) = children(worker)
        os.kill(worker, signal.SIGKILL)
        until(lambda: has_ended(beside), "the helper's end")
        assert running.get("/livez").status == 200
