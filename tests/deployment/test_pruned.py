"""The packages as the image has them, pruned by its own script: the server starts, and draws what it draws here.

The image itself is built and asked by `tests.deployment.image`, where that can be done.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from importlib.metadata import distribution
from pathlib import Path

import pytest

from service.wire.heavy import JOBS
from tests.deployment.samples import LANGUAGE, Drawing, drawings
from tests.deployment.tools import TOP
from tests.wire.serving import Served, served

PRUNE = TOP / "docker/prune.sh"
SERVICE = "air-conditioner-diagnosis"
"""Itself: of what is installed for developers that is what names it, since its code stays in the checkout."""
NEVER_INSTALLED = {"tzdata"}
"""The Dockerfile takes these away with the installer itself."""


@pytest.fixture(scope="module")
def packages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the packages that the image locks, pruned."""
    folder = tmp_path_factory.mktemp("packages")
    locked = re.findall(r"^([\w.-]+)==", (TOP / "docker/requirements.txt").read_text(), re.MULTILINE)
    for name in {*locked, SERVICE} - NEVER_INSTALLED:
        for file in distribution(name).files or []:
            if ".." not in file.parts:  # commands
                (folder / file).parent.mkdir(parents=True, exist_ok=True)
                _link(Path(str(file.locate())), folder / file)
    subprocess.run(["sh", str(PRUNE), str(folder)], check=True)
    return folder


def _link(source: Path, target: Path) -> None:
    """A second name of the file, or a copy on another disk: what is pruned here stays where it is installed."""
    try:
        os.link(source, target)
    except OSError:
        shutil.copy2(source, target)


@pytest.fixture(scope="module")
def server(packages: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The server with nothing installed but these packages."""
    folder = tmp_path_factory.mktemp("pruned")
    settings = {"WEB_CONCURRENCY": "1", "QUEUE_MILLISECONDS": "60000"}
    found = {"PYTHONPATH": f"{packages}:{TOP}", "PYTHONDONTWRITEBYTECODE": "1", "MPLCONFIGDIR": str(folder)}
    with served(folder, "tests.deployment.bare", **settings, **found) as running:
        yield running


def drawn_here(drawing: Drawing) -> bytes:
    """The same drawing by this process, which has the packages whole."""
    document = json.loads(drawing.visit.read_text("utf-8"))
    (piece,) = JOBS[drawing.kind](document, LANGUAGE, "here")
    return piece.body


def test_it_runs_on_what_the_image_has(server: Served, packages: Path) -> None:
    maps = Path(f"/proc/{server.workers()[0]}/maps").read_text()
    libraries = {line.split(maxsplit=5)[-1] for line in maps.splitlines() if "site-packages" in line}
    assert not libraries
    assert str(packages) in maps
    assert not list(packages.rglob("mpl-data/fonts/afm"))


def test_every_note_and_chart_of_the_samples_is_drawn_as_it_is_here(server: Served) -> None:
    asked = drawings()
    assert len(asked) >= 14
    for drawing in asked:
        answer = server.request("POST", drawing.path, drawing.visit.read_bytes(), drawing.headers)
        body: bytes = answer.content  # type: ignore[attr-defined]
        assert (answer.status, drawing.is_whole(body.decode())) == (200, True), (drawing, server.log.read_text())
        assert body == drawn_here(drawing), drawing


def test_nothing_went_wrong_meanwhile(server: Served) -> None:
    lines = [json.loads(line) for line in server.log.read_text().splitlines()]
    assert not [line for line in lines if line["level"] not in ("info", "warning")]
