"""A motor that stands under power is kept off, yet may be tested; and what is read again before it is condemned.

Every check here: common practice, no source, where none is named.
"""

import pytest

from service.knowledge.catalogues import steps as step_rows
from service.knowledge.readings import reading_rows
from service.reasoning.assessment import assess
from service.results.visit import Visit
from service.schemas.documents import load
from tests.checks.electrical.visits import PROVEN

PLATE = {"type": "scroll", "drive": "single_phase", "rated_load_amps": 16.7, "locked_rotor_amps": 96}
UNIT = {"refrigerant": "R-410A", "nominal_voltage": "208_230", "phases": 1, "compressor": PLATE}
# Two lines and no drive.
DEAD = {name: value for name, value in PROVEN.items() if "line3" not in name and name != "drive_bus_volts"}
WEAK = {"run_capacitors": [{"serves": "compressor", "rated_microfarads": 45, "measured_microfarads": 30}]}
WEAK_FAN = {"run_capacitors": [{"serves": "outdoor_fan", "rated_microfarads": 5, "measured_microfarads": 0.1}]}
NORMAL = {"currents": {"compressor_amps": 14.5}}
HUMS = {"symptoms": ["hums_no_start"]}


def judged(**parts):
    return assess(load(Visit, {"equipment": UNIT, "isolation": DEAD, **parts}))


STANDING = {
    "hums, capacitor weak": {"electrical": WEAK, "complaint": HUMS},
    "capacitor weak, never read running": {"electrical": WEAK},
    "fan capacitor failed, fan not seen turning": {"electrical": WEAK_FAN},
    "hums, nothing read": {"complaint": HUMS},
    "half the voltage, never read running": {"electrical": {"supply": {"idle_volts": 118}}},
    "heard humming": {"start_up": {"sound": "hum"}},
    "locked at the start": {
        "electrical": {"currents": {"compressor_starting_amps": 95, "seconds_at_starting_amps": 4}}
    },
    "locked-rotor amps that stay": {"electrical": {"currents": {"compressor_amps": 92}}},
    "outdoor fan stands, compressor runs": {"electrical": {**NORMAL, "outdoor_fan": {"turns": False}}},
    "outdoor fan off while running": {"running": {"outdoor_fan_on": False, "suction_pressure": 140}},
    "outdoor fan reported stopped": {"complaint": {"symptoms": ["outdoor_fan_stopped"]}},
    "indoor blower stands": {"electrical": {"indoor_blower": {"turns": False}}},
}


@pytest.mark.parametrize("parts", STANDING.values(), ids=STANDING)
def test_a_motor_that_stands_under_power_is_kept_off_and_only_tested(parts):
    answer = judged(**parts)
    assert answer.outcome is not None
    assert answer.outcome.run_permission == "keep_off"
    repaired = any(5 <= step_rows()[step.code].stage < 8 for step in answer.next_steps)
    live = [step_rows()[step.code] for step in answer.next_steps if step.power == "on"]
    assert all(row.brief or (repaired and row.stage >= 8) for row in live)
    known = reading_rows()
    asked = [known[reading.why] for reading in answer.next_readings if reading.why in known]
    assert all(row.power != "on" or row.brief for row in asked)


RUNNING = {
    "hummed, runs at normal amps": {"electrical": NORMAL, "complaint": HUMS},
    "weak capacitor, runs at normal amps": {"electrical": {**WEAK, **NORMAL}},
    "reported stopped, seen turning": {
        "electrical": {"outdoor_fan": {"turns": True}},
        "complaint": {"symptoms": ["outdoor_fan_stopped"]},
    },
}


@pytest.mark.parametrize("parts", RUNNING.values(), ids=RUNNING)
def test_a_motor_that_was_read_turning_may_run_watched(parts):
    answer = judged(**parts)
    assert answer.outcome is not None
    assert answer.outcome.run_permission == "may_run_watched"


def test_what_hums_is_not_started_again_and_again():
    assert "caution.limit-start-attempts" in judged(complaint=HUMS).cautions
    assert "caution.limit-start-attempts" not in judged(complaint=HUMS, electrical=NORMAL).cautions


@pytest.mark.parametrize(("amps", "locked"), [(96 * 0.79, False), (96 * 0.8, True)])
def test_amps_that_stay_near_locked_rotor_amps_are_no_overload(amps, locked):
    codes = {item.code for item in judged(electrical={"currents": {"compressor_amps": amps}}).findings}
    assert ("currents.locked-rotor" in codes) is locked
    assert ("currents.compressor-high" in codes) is not locked


def test_a_tripping_breaker_alone_condemns_no_compressor():
    answer = judged(electrical={"protection": {"trips": "at_once"}}, complaint={"symptoms": ["breaker_trips"]})
    assert answer.outcome is not None
    assert answer.outcome.run_permission == "keep_off"
    assert "part.compressor" not in {part.code for part in answer.outcome.parts}
    assert answer.next_readings[0].why == "reading.insulation"


@pytest.mark.parametrize(("touch", "replaced"), [("hot", False), ("cool", True)])
def test_an_open_fan_motor_is_replaced_only_when_read_cold(touch, replaced):
    fan = {"turns": False, "motor_touch": touch, "common_run": {"over_limit": True}, "run_start": {"ohms": 90}}
    fan["common_start"] = {"over_limit": True}
    answer = judged(electrical={"outdoor_fan": fan})
    assert ("step.replace-outdoor-fan" in {step.code for step in answer.next_steps}) is replaced


@pytest.mark.parametrize("code", ["step.start-assist-trial", "step.rotate-leads"])
def test_what_is_wired_in_for_a_trial_is_wired_in_dead(code):
    """Source: 29 CFR 1910.333(a)(1), live parts are de-energised before work on them."""
    assert step_rows()[code].touches_conductors


@pytest.mark.parametrize(
    ("equipment", "isolation", "pointer", "why"),
    [
        (UNIT, {"capacitor_residual_volts": None}, "capacitor_residual_volts", "reading.isolation-capacitor"),
        (UNIT, {"capacitor_residual_volts": 180}, "capacitor_residual_volts", "reading.isolation-capacitor"),
        (UNIT, {"meter_proved_after": None}, "meter_proved_after", "reading.isolation"),
        (
            {**UNIT, "compressor": {"drive": "inverter"}},
            {"drive_bus_volts": 310},
            "drive_bus_volts",
            "reading.isolation-bus",
        ),
    ],
)
def test_the_next_proof_of_dead_is_named_for_what_is_read(equipment, isolation, pointer, why):
    stored = {name: value for name, value in {**DEAD, **isolation}.items() if value is not None}
    windings = {"one_two": {"ohms": 0.9}}
    answer = judged(equipment=equipment, isolation=stored, electrical={"windings": windings})
    assert (answer.next_readings[0].pointer, answer.next_readings[0].why) == (f"/isolation/{pointer}", why)
