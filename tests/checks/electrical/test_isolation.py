"""Proof of dead: what each part of it changes. Source: NFPA 70E Article 120; 29 CFR 1910.333; NEC 460.6."""

import pytest

from service.checks.electrical.isolation import dead_is_proven
from tests.checks.electrical.visits import PROVEN, asked, judged, ohms, one, states, visit

GOOD = {"windings": {"common_run": ohms(0.9), "common_start": ohms(2.8), "run_start": ohms(3.7)}}


@pytest.mark.parametrize("name", ["disconnect_locked", "meter_proved_before", "meter_proved_after"])
def test_a_false_claim_is_no_proof(name):
    assert not dead_is_proven(visit(isolation={**PROVEN, name: False}))
    assert dead_is_proven(visit())


def test_what_is_lacking_is_asked():
    checked = judged(electrical=GOOD, isolation={"disconnect_locked": True})
    assert "/isolation/meter_proved_before" in asked(checked)
    assert "/isolation/capacitor_residual_volts" in asked(checked)
    assert "/isolation/drive_bus_volts" not in asked(checked)


def test_nothing_is_asked_of_a_visit_that_proves_nothing():
    assert judged(isolation={}).findings == ()
    assert judged(isolation={}).missing == ()


def test_a_begun_proof_without_dead_readings_holds_nobody():
    checked = judged(isolation={"disconnect_locked": True})
    assert states(checked) == {"isolation.dead-proven": "not_applicable"}


def test_control_volts_of_fifty_and_more_are_live():
    """29 CFR 1910.333(a)(1): 50 V to ground; a 120 V control circuit is no low-voltage circuit."""
    checked = judged(electrical=GOOD, isolation={**PROVEN, "control_volts": 120})
    assert states(checked)["isolation.voltage-present"] == "fail"
    assert "isolation.control-volts" not in states(checked)
    assert one(checked, "isolation.voltage-present").evidence == ("/isolation/control_volts",)


def test_no_control_volts_left():
    assert states(judged(isolation={**PROVEN, "control_volts": 0}))["isolation.control-volts"] == "pass"


def test_a_three_phase_compressor_needs_no_capacitor_unless_one_was_on_the_bench():
    without = {name: value for name, value in PROVEN.items() if name != "capacitor_residual_volts"}
    bench = {"run_capacitors": [{"serves": "outdoor_fan", "rated_microfarads": 5, "measured_microfarads": 5}]}
    assert dead_is_proven(visit("three_phase", isolation=without))
    assert not dead_is_proven(visit("three_phase", isolation=without, electrical=bench))


def test_an_inverter_needs_its_bus():
    without = {name: value for name, value in PROVEN.items() if name != "drive_bus_volts"}
    assert dead_is_proven(visit("single_phase", isolation=without))
    assert not dead_is_proven(visit("inverter", isolation=without))


def test_near_the_noise_is_said_to_be_borderline():
    """Project choice: noise 2 V; the meter's 1 % of 2.01 V is 0.02 V."""
    checked = judged(isolation={**PROVEN, "line_to_line_volts": 2.01})
    assert one(checked, "isolation.voltage-present").confidence == "borderline"
    assert one(judged(), "isolation.voltage-present").confidence == "firm"


def test_a_hot_overload_is_named_even_without_proof():
    """An undecided finding is a reason to wait, no verdict: it stands without proof, and so does its hold."""
    windings = {"common_run": ohms(None), "common_start": ohms(None), "run_start": ohms(3.7)}
    checked = judged(electrical={"windings": windings}, inspection={"shell_touch": "hot"}, isolation={})
    assert states(checked)["windings.overload-open-hot"] == "undecided"
