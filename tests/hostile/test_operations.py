"""The verdict of the command that sends hostile requests: a failure, or too few requests, is never a success."""

import subprocess

import pytest

from tests.hostile.operations import judge


def run(returncode: int, sent: str) -> subprocess.CompletedProcess[str]:
    return subprocess.CompletedProcess([], returncode, stdout=f"Test cases:\n  {sent}\n")


@pytest.mark.parametrize(
    ("runs", "status"),
    [
        pytest.param([run(0, "60 generated, 60 passed"), run(0, "41 generated, 41 passed")], 0, id="all passed"),
        pytest.param([run(0, "60 generated, 60 passed"), run(1, "41 generated, 1 failed")], 1, id="one failed"),
        pytest.param([run(-9, "100 generated, 100 passed")], 1, id="killed"),
        pytest.param([run(0, "99 generated, 99 passed")], 1, id="one request too few"),
        pytest.param([run(0, "no test case")], 1, id="nothing sent"),
    ],
)
def test_only_a_full_run_without_a_failure_is_a_success(runs, status):
    assert judge(runs, operations_asked=10, each=10) == status
