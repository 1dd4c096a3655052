"""Clients made by public generators from the contract, each run against the real server.

Not in the default run: .venv/bin/pytest -m clients tests/clients. Needs: openapi-python-client (PyPI), Node and
npm, openapi-generator-cli (PyPI, runs on Java 11 or later), Go with gopkg.in/validator.v2 (Debian: golang-go,
golang-gopkg-validator.v2-dev). What is missing is skipped, and said.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.wire.serving import served

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
CONTRACT = ROOT / "openapi" / "openapi.json"
MARK = "clients"


def pytest_configure(config: pytest.Config) -> None:
    """Register the mark."""
    config.addinivalue_line("markers", f"{MARK}: clients of public generators; minutes, and the registries")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave these tests out unless they are asked for by their mark."""
    mine = [item for item in items if HERE in item.path.parents]
    for item in mine:
        item.add_marker(MARK)
    if MARK not in config.getoption("markexpr"):
        config.hook.pytest_deselected(items=mine)
        items[:] = [item for item in items if item not in mine]


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The real server on a free port; a slow machine is given time."""
    folder = tmp_path_factory.mktemp("clients")
    with served(folder, WEB_CONCURRENCY="1", QUEUE_MILLISECONDS="30000") as running:
        yield f"http://127.0.0.1:{running.port}"


def tool(name: str, installed_by: str) -> str:
    """The path of a command, or a skip that says how to get it."""
    found = shutil.which(name) or shutil.which(str(ROOT / ".venv" / "bin" / name))
    if found is None:
        pytest.skip(f"no {name} here: {installed_by}")
    return found


def run(command: list[str], folder: Path, **environment: str) -> str:
    """What a command says that must succeed: its standard output."""
    given = {**os.environ, **environment}
    done = subprocess.run(command, cwd=folder, env=given, capture_output=True, text=True, timeout=600, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="session")
def node_tools(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the tools of node/package.json installed."""
    npm = tool("npm", "install Node 20 or later")
    folder = tmp_path_factory.mktemp("node")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(HERE / "node" / name, folder)
    run([npm, "ci", "--no-audit", "--no-fund"], folder)
    return folder
