"""A conflict of readings is as wide as the instruments that the visit states: wider ones withdraw it.

Source: JCGM 100:2008 (GUM), clause 5.1.2: two readings differ when they differ by more than both can be off.
"""

import copy
import math

import pytest

from service.app import create_app
from service.knowledge.limits import limit
from tests.golden import golden_cases

SOUND = next(case["request"] for name, case in golden_cases() if name.endswith(":vis-s01-410a-valve"))
# Code, the reading that is moved [degF], and from what it is moved away; +1 where it must not lie above, -1 below.
PAIRS = (
    ("readings.liquid-below-outdoor", ("running", "liquid_line_temperature"), ("air", "outdoor_dry_bulb"), -1),
    ("readings.supply-warmer", ("air", "supply_dry_bulb"), ("air", "return_dry_bulb"), +1),
    ("readings.condenser-air-colder", ("air", "condenser_leaving_dry_bulb"), ("air", "outdoor_dry_bulb"), -1),
)
FAR = 12.0  # beyond any stated accuracy below, and what weather and placement add


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def state_of(client, code, moved, fixed, gap, accuracy):
    """The state of the finding where one reading lies `gap` [degF] on the wrong side of the other one."""
    document = copy.deepcopy(SOUND)
    document[moved[0]][moved[1]] = document[fixed[0]][fixed[1]] + gap
    if accuracy is not None:
        document["instruments"] = {"temperature_accuracy": accuracy}
    body = client.post("/v1/assessment", json=document).get_json()
    return next((item["state"] for item in body["findings"] if item["code"] == code), "absent")


@pytest.mark.parametrize("accuracy", [0.5, 1.0, 2.0, 4.0])
@pytest.mark.parametrize(("code", "moved", "fixed", "side"), PAIRS, ids=[pair[0] for pair in PAIRS])
def test_two_readings_conflict_only_beyond_both_instruments(client, code, moved, fixed, side, accuracy):
    both = math.sqrt(2.0) * accuracy
    assert state_of(client, code, moved, fixed, side * 0.98 * both, accuracy) != "fail"
    assert state_of(client, code, moved, fixed, side * (both + FAR), accuracy) == "fail"


def test_a_liquid_line_is_a_pipe_with_a_clamp_on_it(client):
    """The thermometer of the air is finer than a clamp is: within two clamps nothing conflicts."""
    code, moved, fixed, side = PAIRS[0]
    clamps = math.sqrt(2.0) * limit("instruments.clamp").value * 1.8
    assert state_of(client, code, moved, fixed, side * 0.98 * clamps, None) == "review"
