"""What holds for every test: the mark of those that take too long for every change.

Tests marked `long` simulate populations or repeat what a shorter test guards in more places. They run in .ci/run:
.venv/bin/pytest -m long
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from tests import parts

if TYPE_CHECKING:
    from tests.golden import GoldenAnswers

# How long an example takes says more of the machine than of the code: a busy one must not fail arithmetic.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
# For .ci/run: a commit that passed passes again, and one that fails does so by what it changes.
settings.register_profile("repeatable", settings.get_profile("untimed"), derandomize=True)
settings.load_profile("untimed")

MARK = "long"


@pytest.fixture(scope="session")
def golden_answer(tmp_path_factory: pytest.TempPathFactory) -> GoldenAnswers:
    """Status and body of a golden case by its identifier, asked for once in a run."""
    from tests.golden import GoldenAnswers

    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "golden-answers"
    folder.mkdir(exist_ok=True)
    return GoldenAnswers(folder)


def pytest_addoption(parser: pytest.Parser) -> None:
    """The part of tests/run."""
    parser.addoption(
        "--part", choices=parts.PARTS, help="tests that coverage is taken of, the others, or the quick ones"
    )


def pytest_configure(config: pytest.Config) -> None:
    """Register the marks."""
    config.addinivalue_line("markers", f"{MARK}: more than five seconds of processor; run by .ci/run")
    config.addinivalue_line("markers", "uncovered: takes long under coverage and reaches no further line")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Do not import a file that has no test of the part."""
    part = config.getoption("part")
    if part is None or collection_path.suffix != ".py":
        return None
    return parts.is_elsewhere(collection_path, part) or None


@pytest.hookimpl(trylast=True)  # hypothesis has marked its tests by then
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long ones out unless they are asked for by their mark, and those of the other part."""
    part, marked = config.getoption("part"), config.getoption("markexpr")
    left_out = [item for item in items if item.get_closest_marker(MARK) is not None and MARK not in marked]
    left_out += [item for item in items if part is not None and not parts.is_in(item, part)]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        apart = set(left_out)
        items[:] = [item for item in items if item not in apart]
