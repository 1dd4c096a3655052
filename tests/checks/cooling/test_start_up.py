"""The gauges at the start (common practice, no source): suction falls, discharge rises."""

import pytest

from service.checks.refrigerant.start_up import check_start_up
from tests.checks.cooling.visits import changed, finding, spoken, states, visit_of

AMPS = {"compressor": {"rated_load_amps": 15, "locked_rotor_amps": 80, "drive": "single_phase"}}


def start(suction_after, liquid_after, **parts):
    document = {
        "start_up": {
            "suction_pressure_before": 150,
            "liquid_pressure_before": 150,
            "suction_pressure_after": suction_after,
            "liquid_pressure_after": liquid_after,
        }
    }
    return spoken(check_start_up(visit_of(changed(document, **parts))))


def running(amps, **equipment):
    return {"equipment": {**AMPS, **equipment}, "electrical": {"currents": {"compressor_amps": amps}}}


def test_a_sound_start():
    found = start(110, 240)
    assert states(found) == {
        "start-up.suction-falls": "pass", "start-up.discharge-rises": "pass", "start-up.pumps": "pass"
    }  # fmt: skip
    assert found.computed.suction_change.value / 6894.757 == pytest.approx(-40, abs=0.01)
    assert found.computed.liquid_change.value / 6894.757 == pytest.approx(90, abs=0.01)


def test_one_gauge_read_twice_is_surer_than_two_gauges():
    """3.5 psi twice would be 4.9 psi; the calibration part is common and cancels (a third of 4.9 is left)."""
    width = start(110, 240).computed.suction_change.uncertainty / 6894.757
    assert width == pytest.approx(3.5 * 0.333 * 2**0.5, rel=1e-3)


# The least movement that counts is 5 psi (project choice): exactly 5 psi is none.
@pytest.mark.parametrize(("after", "state"), [(145.0, "fail"), (144.9, "pass")])
def test_least_movement(after, state):
    assert states(start(after, 240))["start-up.suction-falls"] == state


def test_neither_moved_and_the_motor_draws_running_current():
    found = start(150, 151, **running(9))
    assert states(found)["start-up.not-pumping"] == "fail"
    assert "/electrical/currents/compressor_amps" in finding(found, "start-up.not-pumping").evidence


@pytest.mark.parametrize(
    "parts",
    [
        running(60),
        {
            "equipment": AMPS,
            "electrical": {"currents": {"compressor_starting_amps": 75, "seconds_at_starting_amps": 3}},
        },
        {"start_up": {"sound": "hum"}},
        {"start_up": {"sound": "click_off"}},
    ],
)
def test_neither_moved_and_the_rotor_stands_still(parts):
    assert states(start(150, 150, **parts))["start-up.rotor-locked"] == "fail"


def test_every_motor_draws_locked_rotor_current_for_an_instant():
    instant = {
        "equipment": AMPS,
        "electrical": {"currents": {"compressor_starting_amps": 75, "compressor_amps": 9}},
    }
    assert states(start(150, 150, **instant))["start-up.not-pumping"] == "fail"


def test_neither_moved_and_no_current_flows():
    assert states(start(150, 150, **running(0.3)))["start-up.motor-idle"] == "fail"


@pytest.mark.parametrize("equipment", [{"compressor": {"drive": "three_phase", "type": "scroll"}}, {"phases": 3}])
def test_three_phases_may_turn_backwards_before_anything_is_condemned(equipment):
    found = states(start(150, 150, equipment=equipment))
    assert found["start-up.rotation"] == "review"
    assert "start-up.not-pumping" not in found


def test_a_reciprocating_compressor_pumps_either_way_round():
    compressor = {"drive": "three_phase", "type": "reciprocating", "rated_load_amps": 15}
    parts = {"equipment": {"compressor": compressor}, "electrical": {"currents": {"compressor_amps": 8}}}
    assert states(start(150, 150, **parts))["start-up.not-pumping"] == "fail"


def test_without_current_a_dead_pump_is_not_told_from_a_still_motor():
    found = start(150, 150)
    assert states(found)["start-up.not-pumping"] == "undecided"
    assert "/electrical/currents/compressor_amps" in [item.pointer for item in found.missing]


@pytest.mark.parametrize(
    ("suction", "liquid", "variant"),
    [(110, 150, "suction-only"), (150, 240, "discharge-only"), (180, 240, "wrong-way"), (110, 100, "wrong-way")],
)
def test_only_one_moved_as_it_should(suction, liquid, variant):
    item = finding(start(suction, liquid), "start-up.pumps")
    assert (item.state, item.variant) == ("review", variant)


def test_one_gauge_alone_is_judged_alone():
    found = start(110, 150, start_up={"liquid_pressure_after": None})
    assert states(found) == {"start-up.suction-falls": "pass"}
    assert [item.pointer for item in found.missing] == ["/start_up/liquid_pressure_after"]


@pytest.mark.parametrize(
    ("parts", "state"),
    [
        ({"equipment": {"mode": "heating"}}, "not_applicable"),
        ({"start_up": {"seconds_after": 9}}, "undecided"),
        ({"equipment": {"compressor": {"drive": "inverter"}}}, "undecided"),
    ],
)
def test_when_the_start_is_not_judged(parts, state):
    assert states(start(150, 150, **parts)) == {"start-up.pumps": state}


def test_an_inverter_that_pumps_pumps():
    assert states(start(110, 240, equipment={"compressor": {"drive": "inverter"}}))["start-up.pumps"] == "pass"


def test_nothing_read_nothing_said():
    found = check_start_up(visit_of({"start_up": {"sound": "normal"}}))
    assert ([(item.code, item.state) for item in found.findings], found.missing) == (
        [("start-up.sound", "pass")],
        (),
    )
