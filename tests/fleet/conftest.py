"""Real files for the fleet commands, and the command itself.

Tests marked `fleet` judge thousands of visits or start processes that share work; asked for by the mark:
.venv/bin/pytest -m fleet tests/fleet
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("pyarrow", reason="needs the optional dependencies: pip install '.[fleet]'")
pytest.importorskip("distributed", reason="needs the optional dependencies: pip install '.[fleet]'")

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
MARK = "fleet"
SECONDS = 240


def pytest_configure(config: pytest.Config) -> None:
    """Register the mark."""
    config.addinivalue_line("markers", f"{MARK}: judges thousands of visits, or starts processes that share work")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long ones out unless they are asked for by their mark."""
    long = [item for item in items if HERE in item.path.parents and item.get_closest_marker(MARK) is not None]
    if MARK not in config.getoption("markexpr"):
        config.hook.pytest_deselected(items=long)
        items[:] = [item for item in items if item not in long]


def environment() -> dict[str, str]:
    """Of a command that a user would type, with this checkout's code."""
    return os.environ | {"OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(ROOT)}


def fleet(*arguments: str | Path, **settings: str) -> subprocess.CompletedProcess[str]:
    """`python -m service fleet ...` as a user would run it."""
    command = [sys.executable, "-m", "service", "fleet", *map(str, arguments)]
    return subprocess.run(
        command,
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
        env=environment() | settings,
        cwd=ROOT,
    )


def write_lines(file: Path, lines: Iterable[Any]) -> Path:
    """An NDJSON file; text and bytes stand as they are."""
    with file.open("wb") as out:
        for line in lines:
            out.write(line if isinstance(line, bytes) else json.dumps(line).encode() + b"\n")
    return file


def rows_in(folder: Path) -> list[dict[str, Any]]:
    """Every judged row of an output folder, in order."""
    from pyarrow import parquet

    files = sorted(folder.glob("part-*.parquet"))
    return [row for file in files for row in parquet.read_table(file).to_pylist()]


def visit(number: int) -> dict[str, Any]:
    """A short visit, quickly judged; no two in a hundred are alike."""
    return {
        "reference": f"job-{number}",
        "visit_date": "2026-07-14",
        "equipment": {"kind": "split_air_conditioner", "refrigerant": "R-410A", "nominal_voltage": "208_230"},
        "complaint": {"symptoms": ["not_cooling"]},
        "electrical": {"supply": {"idle_volts": 180 + number % 100}},
    }


@pytest.fixture
def ndjson(tmp_path: Path) -> Callable[..., Path]:
    """Makes an NDJSON file of lines."""
    return lambda lines, name="visits.ndjson": write_lines(tmp_path / name, lines)
