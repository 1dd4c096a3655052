"""Headless Chromium against the running service; nothing is fetched from elsewhere."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.wire.serving import served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, ConsoleMessage, Page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The real server on a free port; a slow machine is given time."""
    folder = tmp_path_factory.mktemp("pages")
    with served(folder, WEB_CONCURRENCY="1", QUEUE_MILLISECONDS="30000") as running:
        yield f"http://127.0.0.1:{running.port}"


@contextmanager
def sample_program(name: str, *arguments: str) -> Iterator[str]:
    """Run a program of samples/ that serves pages, until the block ends; the address that it says first."""
    command = [sys.executable, str(Path(__file__).parents[2] / "samples" / name), *arguments]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as process:
        assert process.stdout is not None
        yield process.stdout.readline().strip()
        process.terminate()


@pytest.fixture(scope="module")
def screen(address: str) -> Iterator[str]:
    """The sample dispatch screen's own small server, in front of the service."""
    with sample_program("dispatch_screen/serve.py", address, "0") as where:
        yield where


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests."""
    if CHROMIUM is None:
        pytest.skip("no Chromium here: apt-get install chromium")
    driver = pytest.importorskip("playwright.sync_api", reason="no Playwright here: pip install playwright")
    with driver.sync_playwright() as started:
        running = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield running
        running.close()


class Watched:
    """A page, what it complained of and what it asked for."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.asked: list[str] = []
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._heard)
        page.on("request", lambda request: self.asked.append(request.url))

    def _heard(self, said: ConsoleMessage) -> None:
        """Keep an error with its address; a browser asks for an icon whenever it has time, or not at all."""
        address = said.location["url"]
        if said.type == "error" and not address.endswith("/favicon.ico"):
            self.complaints.append(f"{said.text} {address}")


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    """A fresh page."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.set_default_timeout(90_000)
    yield Watched(context.new_page())
    context.close()
