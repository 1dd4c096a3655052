"""The reversing valve: its signal, its coil and what is left. Grounds: circuit logic (O: cooling, B: heating)."""

import pytest

from tests.checks.electrical.visits import asked, judged, ohms, one, states

REVERSED = {
    "running": {"suction_line_temperature": 150, "liquid_line_temperature": 95},
    "air": {"outdoor_dry_bulb": 85, "return_dry_bulb": 78, "supply_dry_bulb": 104},
}
# Cold air outdoors and warm air indoors, no line: the mode is for review.
LIKELY = {
    "running": {},
    "air": {**REVERSED["air"], "condenser_leaving_dry_bulb": 70},
}


def valve(volts, energized_in="cooling", mode="cooling", coil=None, calling=None, **parts):
    control = {"reversing_valve_volts": volts}
    if coil is not None:
        control["reversing_valve_coil_resistance"] = coil
    if calling is not None:
        control["thermostat_calling"] = calling
    equipment = {"kind": "split_heat_pump", "mode": mode}
    if energized_in is not None:
        equipment["reversing_valve_energized_in"] = energized_in
    return judged(equipment=equipment, electrical={"control": control}, **parts)


@pytest.mark.parametrize(
    ("volts", "energized_in", "mode", "state", "variant"),
    [
        (25, "cooling", "cooling", "pass", "energized"),
        (0, "cooling", "cooling", "fail", "missing"),
        (15, "cooling", "cooling", "fail", "low"),
        (0, "heating", "cooling", "pass", "at-rest"),
        (25, "heating", "cooling", "fail", "held"),
        (25, "heating", "heating", "pass", "energized"),
        (0, "cooling", "heating", "pass", "at-rest"),
        (25, None, "cooling", "undecided", "which"),
    ],
)
def test_the_signal_by_the_mode_that_energizes_the_coil(volts, energized_in, mode, state, variant):
    item = one(valve(volts, energized_in, mode), "reversing-valve.signal")
    assert (str(item.state), item.variant) == (state, variant)


COLD_LINE = {"vapor_line_temperature": 48}


@pytest.mark.parametrize(
    ("volts", "energized_in", "running", "state", "variant"),
    [
        (25, "cooling", COLD_LINE, "undecided", "defrost"),
        (0, "heating", COLD_LINE, "undecided", "defrost"),
        (25, "cooling", {}, "undecided", "defrost"),
        # The fan stands in a defrost and the large line is cold: either one rules it out.
        (25, "cooling", {**COLD_LINE, "outdoor_fan_on": True}, "fail", "held"),
        (0, "heating", {**COLD_LINE, "outdoor_fan_on": True}, "fail", "missing"),
        (25, "cooling", {"vapor_line_temperature": 150}, "fail", "held"),
        # 15 V is no defrost's signal either.
        (15, "heating", COLD_LINE, "fail", "low"),
    ],
)
def test_a_defrost_turns_the_signal_round(volts, energized_in, running, state, variant):
    seen = {"running": running, "air": {"outdoor_dry_bulb": 32, "return_dry_bulb": 68}}
    checked = valve(volts, energized_in, "heating", **seen)
    item = one(checked, "reversing-valve.signal")
    assert (str(item.state), item.variant) == (state, variant)
    assert ("/running/outdoor_fan_on" in asked(checked)) == (variant == "defrost")


def test_a_mode_that_is_not_stated_is_cooling():
    checked = judged(
        equipment={"reversing_valve_energized_in": "cooling"},
        electrical={"control": {"reversing_valve_volts": 0}},
    )
    assert one(checked, "reversing-valve.signal").variant == "missing"
    assert "/equipment/mode" not in one(checked, "reversing-valve.signal").evidence


def test_without_a_call_no_signal_is_due():
    assert "reversing-valve.signal" not in states(valve(0, calling=False))
    assert "reversing-valve.signal" in states(valve(0, calling=True))


@pytest.mark.parametrize(
    ("coil", "state", "variant"),
    [
        (ohms(None), "fail", "open"),
        (ohms(1.9), "fail", "shorted"),
        (ohms(2.0), "pass", ""),
        (ohms(14), "pass", ""),
    ],
)
def test_the_coil_by_its_resistance(coil, state, variant):
    item = one(valve(25, coil=coil), "reversing-valve.coil")
    assert (str(item.state), item.variant) == (state, variant)


def test_a_coil_read_without_proof_of_dead_says_nothing():
    checked = valve(25, coil=ohms(14), isolation={"disconnect_locked": True})
    assert "reversing-valve.coil" not in states(checked)


@pytest.mark.parametrize(
    ("volts", "energized_in", "coil", "seen", "state"),
    [
        (25, "cooling", ohms(14), REVERSED, "fail"),
        (25, "cooling", ohms(14), LIKELY, "review"),
        (0, "heating", None, REVERSED, "fail"),
        (25, "cooling", None, REVERSED, "undecided"),
        # The coil or the signal explains it, or the unit runs as asked: the valve is not accused.
        (25, "cooling", ohms(None), REVERSED, None),
        (0, "cooling", ohms(14), REVERSED, None),
        (25, None, ohms(14), REVERSED, None),
        (25, "cooling", ohms(14), {}, None),
    ],
)
def test_the_valve_is_what_is_left(volts, energized_in, coil, seen, state):
    checked = valve(volts, energized_in, coil=coil, **seen)
    assert states(checked).get("reversing-valve.stuck") == state


def test_what_would_tell_signal_from_valve_is_asked_for():
    assert "/equipment/reversing_valve_energized_in" in asked(valve(25, None))
    assert "/equipment/reversing_valve_energized_in" not in asked(valve(25, "cooling"))
    running = judged(equipment={"kind": "split_heat_pump", "mode": "cooling"}, **REVERSED)
    assert "/electrical/control/reversing_valve_volts" in asked(running)
    assert "/electrical/control/reversing_valve_volts" not in asked(judged(equipment={"kind": "split_heat_pump"}))
