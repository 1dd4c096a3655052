"""What holds for every test: the mark of those that take too long for every change.

Tests marked `long` simulate populations or repeat what a shorter test guards in more places. They run in .ci/run:
.venv/bin/pytest -m long
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

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


def pytest_configure(config: pytest.Config) -> None:
    """Register the mark."""
    config.addinivalue_line("markers", f"{MARK}: more than five seconds of processor; run by .ci/run")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long ones out unless they are asked for by their mark."""
    left_out = [item for item in items if item.get_closest_marker(MARK) is not None]
    if left_out and MARK not in config.getoption("markexpr"):
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item.get_closest_marker(MARK) is None]
