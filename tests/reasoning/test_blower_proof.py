"""A blower that is fed, called and still has not lost its motor yet: its capacitor or its module may be the fault.

Common practice, no source: what stands still and spins freely is tested before a motor is ordered.
"""

import pytest

from service.app import create_app

STILL = {"turns": False, "line_volts": 238, "call_present": True}


@pytest.mark.parametrize("kind", [None, "psc", "constant_torque"])
@pytest.mark.parametrize(("spins_free", "ordered"), [(True, False), (False, True)])
def test_a_blower_motor_is_ordered_once_a_test_of_its_own_failed(kind, spins_free, ordered):
    equipment = {"phases": 1, "nominal_voltage": "208_230", "indoor_blower": {"type": kind} if kind else {}}
    visit = {"equipment": equipment, "electrical": {"indoor_blower": {**STILL, "spins_free": spins_free}}}
    answer = create_app().test_client().post("/v1/assessment", json=visit).get_json()
    assert answer["causes"][0]["code"] == "cause.indoor-blower-failed"
    # A seized motor needs no further test.
    assert ("step.test-indoor-blower" in {step["code"] for step in answer["next_steps"]}) is not ordered
    assert ("part.indoor-blower-motor" in {part["code"] for part in answer["outcome"]["parts"]}) is ordered
