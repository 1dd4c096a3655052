"""Settings: every wrong one is named with what is allowed, before anything slow happens."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from service.settings import Settings, SettingsError, bind_address, default_bind, from_environment, is_loopback
from tests.wire.serving import PATIENCE

DIGEST = "0" * 64


def test_nothing_set_gives_the_defaults() -> None:
    assert from_environment({}) == Settings()
    assert from_environment({"DRAIN_SECONDS": ""}) == Settings()


def test_every_setting_is_read(tmp_path: Path) -> None:
    keys = tmp_path / "keys"
    keys.write_text(f"# the dispatch platform\ndispatch:{DIGEST}\n\nOffice-2:{'A' * 64}  # the other one\n")
    found = from_environment(
        {
            "WEB_CONCURRENCY": "3",
            "DRAIN_SECONDS": "0",
            "IN_FLIGHT_LIMIT": "10",
            "QUEUE_MILLISECONDS": "250",
            "BODY_SECONDS": "7",
            "WORKER_REQUESTS": "0",
            "API_KEYS": f"shop:{'b' * 64}, shop:{'c' * 64}",
            "PROXY_NETWORKS": "10.0.0.0/8, fd00::/8",
            "API_KEYS_FILE": str(keys),
            "OPERATIONS_BIND": "[::1]:9100",
            "METRICS_DIRECTORY": str(tmp_path),
            "SERVICE_COMMIT": "1a2b3c",
        }
    )
    assert found == Settings(
        web_concurrency=3,
        drain_seconds=0,
        in_flight_limit=10,
        queue_milliseconds=250,
        body_seconds=7,
        worker_requests=0,
        api_keys=frozenset({f"shop:{'b' * 64}", f"shop:{'c' * 64}"}),
        api_keys_file=keys,
        proxy_networks=("10.0.0.0/8", "fd00::/8"),
        operations_bind="[::1]:9100",
        metrics_directory=tmp_path,
        service_commit="1a2b3c",
    )


WRONG = [
    ("WEB_CONCURRENCY", "0"),
    ("WEB_CONCURRENCY", "65"),
    ("WEB_CONCURRENCY", "two"),
    ("WEB_CONCURRENCY", "1_0"),
    ("WEB_CONCURRENCY", "１"),
    ("DRAIN_SECONDS", "-1"),
    ("DRAIN_SECONDS", "1.5"),
    ("IN_FLIGHT_LIMIT", "0"),
    ("QUEUE_MILLISECONDS", "9"),
    ("BODY_SECONDS", "301"),
    ("WORKER_REQUESTS", "999"),
    ("API_KEYS", "secret-in-plain"),
    ("API_KEYS", DIGEST),
    ("API_KEYS", f"a b:{DIGEST}"),
    ("API_KEYS", f"one:{DIGEST},two:{DIGEST}"),
    ("PROXY_NETWORKS", "10.0.0.1/8"),
    ("PROXY_NETWORKS", "proxy"),
    ("API_KEYS", ","),
    ("API_KEYS_FILE", "/nowhere/keys"),
    ("API_KEYS_FILE", "/etc/hostname"),
    ("OPERATIONS_BIND", "9100"),
    ("OPERATIONS_BIND", "127.0.0.1:70000"),
    ("METRICS_DIRECTORY", "relative"),
    ("METRICS_DIRECTORY", "/etc/hostname"),
    ("SERVICE_COMMIT", "a b"),
]


@pytest.mark.parametrize(("name", "text"), WRONG)
def test_a_wrong_setting_is_named_with_what_is_allowed(name: str, text: str) -> None:
    with pytest.raises(SettingsError) as caught:
        from_environment({name: text})
    (message,) = caught.value.messages
    assert message.startswith(f"{name}: allowed is ")
    assert "secret" not in message


@pytest.mark.parametrize("text", ["127.0.0.1:8080", "0.0.0.0:0", "[::]:8080", ":8080", "name.internal:1"])
def test_a_listening_address_is_read(text: str) -> None:
    assert bind_address(text) == text


@pytest.mark.parametrize("text", ["", "8080", "host", "a:b", "1.2.3.4:99999", "::1:80", "unix:/tmp/x", "fd://3"])
def test_any_other_listening_address_is_refused(text: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - any ValueError will do
        bind_address(text)


def test_without_a_word_about_it_only_this_machine_is_listened_to_as_long_as_everybody_may_call() -> None:
    assert is_loopback(default_bind(keys_asked_for=False))
    assert not is_loopback(default_bind(keys_asked_for=True))
    assert [is_loopback(bind) for bind in ("[::1]:1", "localhost:1", ":1", "[::]:1", "10.0.0.1:1")] == [
        True, True, False, False, False,
    ]  # fmt: skip


def run(arguments: list[str], **environment: str) -> tuple[int, str, float]:
    """Exit status, what was said, and seconds of a run of the command."""
    started = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "service", *arguments],
        env={"PATH": os.environ["PATH"], **environment},
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr, time.perf_counter() - started


def test_wrong_settings_end_the_start_before_anything_slow_is_imported_and_all_are_named() -> None:
    settings = {"WEB_CONCURRENCY": "many", "DRAIN_SECONDS": "-1", "IN_FLIGHT_LIMIT": "0"}
    status, said, _ = run(["serve", "--bind", "nowhere"], **settings, PYTHONPROFILEIMPORTTIME="1")
    assert status != 0
    for name in ("WEB_CONCURRENCY", "DRAIN_SECONDS", "IN_FLIGHT_LIMIT", "--bind"):
        assert f"{name}: allowed is" in said
    assert "Traceback" not in said
    imported = {line.rpartition("|")[2].strip() for line in said.splitlines() if line.startswith("import time:")}
    assert "service.settings" in imported
    assert not imported & {"flask", "gunicorn", "marshmallow", "numpy", "yaml"}


@pytest.mark.parametrize("arguments", [[], ["unheard-of"], ["serve", "--workers", "2"]])
def test_an_unknown_command_says_what_there_is(arguments: list[str]) -> None:
    status, said, _ = run(arguments)
    assert status != 0
    assert "usage: python -m service" in said
