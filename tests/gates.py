"""python -m tests.gates: how much of each serving room the tests ran, against the least that is accepted.

Reads what `pytest --cov` left behind (tests/run does both). Lines and branches count alike. What is left out:
`wire` runs in server processes, which are tested as processes; `workshop` holds commands, which are run as
commands and simulate for minutes. Both are tested; neither is in these figures.
"""

from __future__ import annotations

import contextlib
import io
import sys
from pathlib import Path

from coverage import Coverage
from coverage.exceptions import CoverageException

TOP = Path(__file__).parents[1]
LEAST = {
    "physics": 0.0,
}
"""Percent of lines and branches, measured on 2026-11-28 and rounded down to the half; raise it when it rises."""
SHOWN = 5


def main() -> int:
    """Print a line for each room; 1 where one is below its gate."""
    measured = Coverage(data_file=str(TOP / ".coverage"), config_file=str(TOP / "pyproject.toml"))
    try:
        measured.load()
        shares = {room: _share(measured, f"service/{room}/*") for room in LEAST}
    except CoverageException as error:
        print(f"{error}: run bash tests/run, or pytest --cov, first", file=sys.stderr)
        return 1
    failed = 0
    for room, share in shares.items():
        passed = share >= LEAST[room]
        failed += not passed
        print(f"{'pass' if passed else 'FAIL'}  service/{room}: {share:.1f} % (at least {LEAST[room]:.1f} %)")
        if not passed:
            for line in _least_covered(measured, f"service/{room}/*"):
                print(f"      {line}")
            print(f"      mend: test them; all: .venv/bin/coverage report -m --include='service/{room}/*'")
    return int(failed > 0)


def _share(measured: Coverage, files: str) -> float:
    """Percent of lines and branches of some files that ran."""
    return measured.report(include=[files], file=io.StringIO(), skip_covered=False)


def _least_covered(measured: Coverage, files: str) -> list[str]:
    """The files with most lines that never ran, and which lines."""
    told = []
    data = measured.get_data()
    for name in data.measured_files():
        if Path(name).match(files.replace("*", "**/*.py")) or files.removesuffix("*") in name:
            with contextlib.suppress(CoverageException):
                _, _, _, missing, text = measured.analysis2(name)
                if missing:
                    told.append((len(missing), f"{Path(name).relative_to(TOP)}: lines {text}"))
    return [line for _, line in sorted(told, reverse=True)[:SHOWN]]


if __name__ == "__main__":
    raise SystemExit(main())
