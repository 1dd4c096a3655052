"""python -m tests.deployment.wheel: build the wheel, install it into an empty environment, serve and ask there.

The environment gets what the wheel itself names and nothing else, so that a dependency or a file of data that the
package forgets is missed here and not at a user's. The server runs in a folder outside the checkout.
"""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

from tests.deployment.tools import TOP, Failed, check, run
from tests.golden import differences

SAMPLE = TOP / "samples" / "visits" / "weak-capacitor.json"
EXPECTED = {"outcome": {"state": "fault"}, "causes_first": "cause.run-capacitor-failed"}
OFFLINE = ("CoolProp", "scipy", "requests", "pytest")
READY_SECONDS = 120  # the first start compiles what it imports
QUIET = ("--quiet", "--disable-pip-version-check")


def main() -> int:
    """Build, install, start, ask, stop; print what held. Raises: Failed."""
    with tempfile.TemporaryDirectory(prefix="wheel-") as name:
        folder = Path(name)
        wheel = _built(folder)
        python = _installed(wheel, folder)
        served = _started(python, folder)
        try:
            _ask(*served)
        finally:
            served[0].terminate()
        check(served[0].wait(20) == 0, "stopped with exit status 0")
    return 0


def _built(folder: Path) -> Path:
    """The wheel, built from a copy: what an earlier build left in the checkout would come along otherwise."""
    started = time.monotonic()
    copy = folder / "checkout"
    for name in ("service", "openapi"):
        unwanted = shutil.ignore_patterns("__pycache__")
        shutil.copytree(TOP / name, copy / name, symlinks=True, ignore=unwanted)
    shutil.copy(TOP / "pyproject.toml", copy)
    run(sys.executable, "-m", "pip", "wheel", *QUIET, "--no-deps", "--wheel-dir", folder, copy)
    (wheel,) = folder.glob("*.whl")
    check(True, f"{wheel.name}, {wheel.stat().st_size / 1e6:.1f} MB, built in {time.monotonic() - started:.0f} s")
    return wheel


def _installed(wheel: Path, folder: Path) -> Path:
    started = time.monotonic()
    environment = folder / "environment"
    run(sys.executable, "-m", "venv", environment)
    python = environment / "bin" / "python"
    run(python, "-m", "pip", "install", *QUIET, "--no-compile", wheel, seconds=600)
    asked = f"import importlib.util as u; print([n for n in {OFFLINE!r} if u.find_spec(n)])"
    there = run(python, "-I", "-c", asked).strip()
    check(there == "[]", f"nothing of the workshop came along: {there}")
    check(True, f"installed with what it names in {time.monotonic() - started:.0f} s")
    return python


def _started(python: Path, folder: Path) -> tuple[subprocess.Popen[bytes], int]:
    """The server of the installed package; `-I` and the folder keep the checkout out of reach."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        port = int(listener.getsockname()[1])
    command = [str(python), "-I", "-m", "service", "serve", "--bind", f"127.0.0.1:{port}"]
    log = folder / "serve.log"
    settings = {"PATH": os.environ["PATH"], "WEB_CONCURRENCY": "1", "QUEUE_MILLISECONDS": "30000"}
    with log.open("wb") as out:
        process = subprocess.Popen(command, cwd=folder, env=settings, stdout=out, stderr=subprocess.STDOUT)
    for _ in range(READY_SECONDS * 10):
        if process.poll() is not None:
            break
        try:
            _read(port, "/readyz")
            return process, port
        except OSError:
            time.sleep(0.1)
    process.kill()
    raise Failed(f"the installed service did not start:\n{log.read_text()}")


def _read(port: int, path: str, body: bytes | None = None, media: str = "application/json") -> bytes:
    headers = {"Content-Type": "application/json", "Accept": media}
    asked = urllib.request.Request(f"http://127.0.0.1:{port}{path}", body, headers)
    with urllib.request.urlopen(asked, timeout=30) as answer:
        content: bytes = answer.read()
        return content


def _ask(process: subprocess.Popen[bytes], port: int) -> None:
    visit = SAMPLE.read_bytes()
    answer: dict[str, Any] = json.loads(_read(port, "/v1/assessment", visit))
    found = differences({"expect": EXPECTED, "tolerance": 0}, 200, answer)
    check(not found, f"judges a sample visit: {found or answer['outcome']['summary']}")
    for media, path, mark in (
        ("text/html", "/v1/assessment", b"</html>"),
        ("image/svg+xml", "/v1/chart", b"</svg>"),
    ):
        check(mark in _read(port, path, visit, media), f"draws {media} of it")
    contract = _read(port, "/openapi.json")
    check(contract == (TOP / "openapi" / "openapi.json").read_bytes(), "serves the contract of this checkout")
    check(b"<html" in _read(port, "/docs", media="text/html"), "serves the page that explains it")


if __name__ == "__main__":
    raise SystemExit(main())
