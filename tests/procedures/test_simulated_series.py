"""The series module on simulated curves of all kinds: 95 % right, and never a dangerous confusion."""

import pytest

from tests.procedures.simulated_series import KINDS, share, verdicts

DRAWS = 20


@pytest.mark.parametrize("name", KINDS)
def test_simulated_curves(name):
    found = verdicts(KINDS[name], DRAWS, first=1000)
    assert share(found, KINDS[name].right) >= 0.9, found
    assert share(found, KINDS[name].dangerous) == 0.0, found


def test_the_mark_over_all_kinds():
    shares = [share(verdicts(kind, DRAWS, first=2000), kind.right) for kind in KINDS.values()]
    assert sum(shares) / len(shares) >= 0.95
