"""Callers with names: read again without a restart, named in log and metric, never by their key."""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path

import pytest

from service.wire import callers
from service.wire.addresses import address_finder
from service.wire.callers import Callers
from tests.wire.conftest import make_app
from tests.wire.test_observe import Lines, value


def entry(name: str, key: str) -> str:
    return f"{name}:{hashlib.sha256(key.encode()).hexdigest()}"


def replace(file: Path, *entries: str) -> None:
    """As an orchestrator does it: another file under the same name."""
    new = file.with_suffix(".new")
    new.write_text("\n".join(entries))
    os.replace(new, file)


@pytest.fixture
def keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file of one key, looked at for every request."""
    monkeypatch.setattr(callers, "LOOK_SECONDS", -1.0)
    file = tmp_path / "keys"
    file.write_text(entry("dispatch", "one"))
    return file


def test_keys_come_and_go_without_a_restart(keys: Path) -> None:
    found = Callers(frozenset({entry("office", "fixed")}), keys)
    assert found.asked_for
    assert [found.name_of(key) for key in ("one", "two", "fixed", "")] == ["dispatch", None, "office", None]
    replace(keys, entry("dispatch", "two"))
    assert [found.name_of(key) for key in ("one", "two", "fixed")] == [None, "dispatch", "office"]


@pytest.mark.parametrize("text", ["", "nonsense", "dispatch:12", "é:" + "0" * 64])
def test_a_file_that_cannot_be_read_leaves_the_keys_and_is_told_once(
    keys: Path, text: str, caplog: pytest.LogCaptureFixture
) -> None:
    found = Callers(frozenset(), keys)
    keys.write_text(text, encoding="utf-8")
    assert [found.name_of("one") for _ in range(3)] == ["dispatch"] * 3
    assert [record.levelname for record in caplog.records] == ["ERROR"]
    keys.unlink()
    assert found.name_of("one") == "dispatch"
    replace(keys, entry("dispatch", "two"))
    assert [found.name_of(key) for key in ("one", "two")] == [None, "dispatch"]


def test_the_file_is_not_looked_at_for_every_request(keys: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(callers, "LOOK_SECONDS", 60.0)
    found = Callers(frozenset(), keys)
    replace(keys, entry("dispatch", "two"))
    assert found.name_of("one") == "dispatch"


def test_log_and_metric_carry_the_name_and_never_the_key(keys: Path, log_lines: Lines) -> None:
    client = make_app(api_keys_file=keys).test_client()
    before = value('caller_requests_total{caller="dispatch",code="200"}')
    client.get("/v1/problems", headers={"X-Api-Key": "one"})
    client.get("/v1/problems", headers={"X-Api-Key": "another"})
    known, unknown = log_lines()
    assert (known["caller"], known["address"], known["status"]) == ("dispatch", "127.0.0.1", 200)
    assert "caller" not in unknown
    assert "another" not in json.dumps(unknown)
    assert value('caller_requests_total{caller="dispatch",code="200"}') == before + 1
    assert value('caller_processor_seconds_total{caller="dispatch"}') > 0


NETWORKS = ("10.0.0.0/8", "fd00::/8")


@pytest.mark.parametrize(
    ("peer", "forwarded", "found"),
    [
        ("10.0.0.1", "203.0.113.9", "203.0.113.9"),
        ("10.0.0.1", "6.6.6.6, 203.0.113.9", "203.0.113.9"),  # what the caller wrote itself stands before
        ("10.0.0.1", "6.6.6.6, 203.0.113.9, 10.2.3.4", "203.0.113.9"),
        ("fd00::1", "2001:db8::1", "2001:db8::1"),
        ("203.0.113.9", "6.6.6.6", "203.0.113.9"),  # no proxy of ours
        ("10.0.0.1", "forged\r\nline", "10.0.0.1"),
        ("10.0.0.1", "", "10.0.0.1"),
        ("10.0.0.1", "10.0.0.7", "10.0.0.7"),
    ],
)
def test_a_proxy_is_believed_for_what_it_wrote_itself(peer: str, forwarded: str, found: str) -> None:
    environ = {"REMOTE_ADDR": peer, "HTTP_X_FORWARDED_FOR": forwarded}
    assert address_finder(NETWORKS)(environ) == found
    assert address_finder(())(environ) == peer


def test_shared_caches_cannot_mix_callers(keys: Path) -> None:
    for members, expected in (({}, "Accept"), ({"api_keys_file": keys}, "Accept, X-Api-Key")):
        client = make_app(**members).test_client()
        response = client.get("/test/text", headers={"X-Api-Key": "one"})
        assert response.headers["Vary"] == ", ".join(
            sorted({*expected.split(", "), "Accept-Encoding", "Accept-Language"})
        )
        listed = client.get("/v1/problems", headers={"X-Api-Key": "one"})
        assert listed.headers["Cache-Control"].startswith("private" if members else "public")
        assert client.get("/openapi.json").headers["Cache-Control"].startswith("private" if members else "public")
        assert ("X-Api-Key" in listed.headers.get("Vary", "")) == bool(members)


def test_an_answer_says_what_it_cost() -> None:
    timing = make_app().test_client().get("/v1/problems").headers["Server-Timing"]
    parts = dict(part.split(";dur=") for part in timing.split(", "))
    assert parts.keys() == {"total", "processor"}
    assert all(0 <= float(milliseconds) < 5000 for milliseconds in parts.values())
