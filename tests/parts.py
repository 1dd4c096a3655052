"""Which tests coverage is taken of, and which run beside them without it.

Coverage doubles what a test costs. It is taken of the tests that decide a gate (tests/gates.py) and reach the same
lines each time; what draws its examples at random, simulates, or looks at a running process is run without it.
tests/run asks for one part after the other: `pytest --part covered`, `pytest --part others`. Its fast path leaves
out what starts a server: `--part quick`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent
PARTS = ("covered", "others", "quick")
UNCOVERED = (
    "benchmarks/",
    "clients/",
    "deployment/",
    "fleet/",
    "hostile/",
    "outside/",
    "pages/",
    "physics/cycle/",
    "samples/",
    "simulated/",
    "walkthrough/",
    "wire/",
)
"""Folders whose tests run processes, or simulate; of one in another folder the mark says so."""
SERVER = "from tests.wire.serving"
MARKS = ("hypothesis", "uncovered")
"""The first is given by hypothesis to each of its tests."""


def is_elsewhere(file: Path, part: str) -> bool:
    """Whether a file has no test of this part, so that it need not be imported."""
    name = file.relative_to(HERE).as_posix()
    if part == "covered":
        return name.startswith(UNCOVERED)
    text = file.read_text(encoding="utf-8")
    if part == "quick":
        return SERVER in text
    return not name.startswith(UNCOVERED) and not any(mark in text for mark in MARKS)


def is_in(item: pytest.Item, part: str) -> bool:
    """Whether a test is of this part; each is of one of the first two."""
    if part == "quick":
        return item.get_closest_marker("uncovered") is None
    folder = item.path.relative_to(HERE).as_posix().startswith(UNCOVERED)
    apart = folder or any(item.get_closest_marker(mark) for mark in MARKS)
    return apart == (part == "others")
