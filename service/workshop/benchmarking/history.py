"""The history of benchmarks: one JSON line a run, appended, never rewritten."""

from __future__ import annotations

import json
import os
import platform
import subprocess
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from service.results.record import Record, asdict

Figures = dict[str, Any]


def append(file: Path, figures: Figures) -> None:
    """Add one run: when, of which commit, on what, and its figures."""
    line = {
        "time": datetime.now(UTC).isoformat(timespec="seconds"),
        "commit": _commit(),
        "python": platform.python_version(),
        "processor": _processor(),
        "cores": len(os.sched_getaffinity(0)),
        "load_average": round(os.getloadavg()[0], 2),
        "figures": {
            name: asdict(value) if isinstance(value, Record) else value for name, value in figures.items()
        },
    }
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("a", encoding="utf-8") as lines:
        lines.write(json.dumps(line) + "\n")


def _commit() -> str:
    """The commit of the working copy, with a plus sign where files differ from it; unknown outside of one."""
    try:
        found = subprocess.run(
            ["git", "describe", "--always", "--dirty=+"],
            capture_output=True,
            check=True,
            cwd=Path(__file__).parent,
        )
    except (OSError, subprocess.CalledProcessError):
        return "unknown"
    return found.stdout.decode().strip()


def _processor() -> str:
    text = Path("/proc/cpuinfo").read_text()
    return text.split("model name")[1].split(":")[1].split("\n")[0].strip() if "model name" in text else "unknown"
