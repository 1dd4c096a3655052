"""The commands of the runbook, each run as it stands there on the log of a real server."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.hostile.broken_bodies import BROKEN, send
from tests.wire.serving import served, until

RUNBOOK = (Path(__file__).parents[2] / "docker/RUNBOOK.md").read_text()
COMMANDS = dict(re.findall(r"^\*\*([\w ]+)\*\*[^`]*?```bash\n(.*?)\n```", RUNBOOK, re.MULTILINE | re.DOTALL))
EXPECTED = {
    "Errors": "drawing broke",
    "One request": "the-id",
    "Turned away": "dispatch",
    "Busy": "dispatch\t127.0.0.1\t/v1/saturation",
    "Slow": "dispatch",
    "Refused": "json.truncated",
    "Gone": "127.0.0.1",
    "Unknown keys": "127.0.0.1",
}
KEY = {"X-Api-Key": "one", "Content-Type": "application/json"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the log of a server that met all of it; what takes long or breaks is put in."""
    where = tmp_path_factory.mktemp("runbook")
    digest = hashlib.sha256(b"one").hexdigest()
    with served(where, WEB_CONCURRENCY="1", API_KEYS=f"dispatch:{digest}") as server:
        body = b'{"refrigerant":"R-32","points":[{"pressure":100}]}'
        named = {**KEY, "X-Request-Id": "the-id"}
        assert server.request("POST", "/v1/saturation", body, named).status == 200
        assert server.request("POST", "/v1/saturation", body[:9], KEY).status == 400
        assert server.request("POST", "/v1/saturation", body, {}).status == 401
        for broken in BROKEN:
            if broken.reset or broken.name == "a body shorter than its length":
                send(server.port, "/v1/saturation", "application/json\r\nX-Api-Key: one", broken, "broken")
        until(lambda: server.log.read_text().count('"gone":true') == 2, "two clients that are gone")
    lines = [json.loads(line) for line in server.log.read_text().splitlines()]
    served_line = next(line for line in lines if line.get("request_id") == "the-id")
    lines.append({**served_line, "status": 503, "ms": 1200.0, "refused": ["server.full"]})
    trouble = {"level": "error", "logger": "service", "message": "drawing broke", "trace": "Traceback ..."}
    lines.append({"time": served_line["time"], **trouble, "request_id": "the-id"})
    (where / "service.log").write_text("".join(json.dumps(line) + "\n" for line in lines))
    return where


def test_every_command_is_tried() -> None:
    assert set(COMMANDS) == set(EXPECTED)
    assert RUNBOOK.count("```bash") == len(COMMANDS)


@pytest.mark.skipif(shutil.which("jq") is None, reason="jq is not installed")
@pytest.mark.parametrize("name", EXPECTED)
def test_it_says_what_is_asked(folder: Path, name: str) -> None:
    command = ["bash", "-euo", "pipefail", "-c", COMMANDS[name]]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=30, check=False)
    assert done.returncode == 0, done.stderr
    assert EXPECTED[name] in done.stdout


def test_the_alerts_name_sections_that_exist() -> None:
    alerts = (Path(__file__).parents[2] / "docker/prometheus/alerts.yml").read_text()
    named = set(re.findall(r"docker/RUNBOOK\.md, ([\w ]+)\)", alerts))
    assert named
    assert named <= {name.lower() for name in COMMANDS}
