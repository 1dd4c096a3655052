"""What holds for every test: the mark of those that take too long for every change.

Tests marked `long` simulate populations or repeat what a shorter test guards in more places. They run in .ci/run:
.venv/bin/pytest -m long
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings

# How long an example takes says more of the machine than of the code: a busy one must not fail arithmetic.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
# For .ci/run: a commit that passed passes again, and one that fails does so by what it changes.
settings.register_profile("repeatable", settings.get_profile("untimed"), derandomize=True)
settings.load_profile("untimed")

MARK = "long"


def pytest_configure(config: pytest.Config) -> None:
    """Register the mark."""
    config.addinivalue_line("markers", f"{MARK}: more than five seconds of processor; run by .ci/run")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long ones out unless they are asked for by their mark."""
    left_out = [item for item in items if item.get_closest_marker(MARK) is not None]
    if left_out and MARK not in config.getoption("markexpr"):
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item.get_closest_marker(MARK) is None]
