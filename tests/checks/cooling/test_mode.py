"""Which way a heat pump moves heat, by two signs of different instruments.

Grounds: a condenser warms its air and an evaporator cools it (physics); a defrost is cooling with the outdoor fan
standing (common practice, no source). Margins are read from the limits, never written down a second time.
"""

import pytest

from service.knowledge.limits import limit
from service.results.visit import Visit
from service.schemas.documents import load
from service.verdicts.mode import direction, has_hot_line, judges_cooling
from tests.checks.cooling.visits import checked, finding, states

F = 1.8
HOT_LINE, AIR, OUTDOORS, LIQUID = (
    limit(f"mode.{name}").value * F for name in ("hot-line", "air", "outdoor-air", "liquid-line")
)
BOTH = 2.0  # two thermometers of 1.3 F are off by 1.84 F together
RETURN, OUTDOOR = 78.0, 85.0
AIRS = {"return_dry_bulb": RETURN, "outdoor_dry_bulb": OUTDOOR}
HOT = {"suction_line_temperature": OUTDOOR + HOT_LINE + BOTH, "liquid_line_temperature": 95}
WARM = {"supply_dry_bulb": RETURN + AIR + BOTH}
COLD_OUTSIDE = {"condenser_leaving_dry_bulb": OUTDOOR - OUTDOORS - BOTH}
LEVEL = {"suction_pressure": 300, "liquid_pressure": 290}


def visit(running=None, air=None, kind="split_heat_pump", mode="cooling", **parts):
    equipment = {"kind": kind, "mode": mode, "refrigerant": "R-410A"}
    return {"equipment": equipment, "running": running or {}, "air": {**AIRS, **(air or {})}, **parts}


def shown(document):
    found = direction(load(Visit, document))
    return (str(found.state) if found.state else None, found.variant)


@pytest.mark.parametrize(
    ("running", "air", "state"),
    [
        (HOT, WARM, "fail"),
        (HOT, COLD_OUTSIDE, "fail"),
        ({**HOT, **LEVEL}, {}, "fail"),
        ({**LEVEL}, COLD_OUTSIDE, "review"),
        ({}, {**WARM, **COLD_OUTSIDE}, "review"),
        # Level gauges and warm air: a stopped compressor with heat strips on looks so too.
        ({**LEVEL}, WARM, "undecided"),
        (HOT, {}, "undecided"),
        ({}, WARM, None),
        ({}, COLD_OUTSIDE, None),
        (LEVEL, {}, None),
        ({}, {}, None),
    ],
)
def test_heating_on_a_call_for_cooling_takes_two_signs(running, air, state):
    assert shown(visit(running, air)) == (state, "in-heating" if state else "")


@pytest.mark.parametrize(
    ("running", "air"),
    [
        # Each sign just inside what its instruments can be off.
        ({**HOT, "suction_line_temperature": OUTDOOR + HOT_LINE + 1.5}, WARM),
        (HOT, {"supply_dry_bulb": RETURN + AIR + 1.5}),
        (HOT, {"condenser_leaving_dry_bulb": OUTDOOR - OUTDOORS - 1.5}),
        ({**HOT, "suction_pressure": 300, "liquid_pressure": 240}, {}),
        ({**HOT, "suction_pressure": 240, "liquid_pressure": 300}, {}),
    ],
)
def test_a_sign_within_its_margin_is_none(running, air):
    assert shown(visit(running, air))[0] != "fail"


def test_swapped_clamps_are_no_hot_line():
    """A liquid line colder than the house is none of a unit that heats."""
    assert not has_hot_line(load(Visit, visit({**HOT, "liquid_line_temperature": 55})))
    assert has_hot_line(load(Visit, visit(HOT)))


def test_the_large_line_goes_before_the_suction_line():
    running = {"suction_line_temperature": 45, "vapor_line_temperature": OUTDOOR + HOT_LINE + BOTH}
    assert direction(load(Visit, visit(running, WARM))).evidence[0] == "/running/vapor_line_temperature"


def test_a_hot_line_needs_an_air_to_be_hotter_than():
    document = visit({**HOT, **LEVEL})
    document["air"] = {}
    assert shown(document) == (None, "")


@pytest.mark.parametrize("frost", ["frost", "iced"])
def test_frost_outdoors_stands_for_cold_air_there(frost):
    assert shown(visit({}, WARM, inspection={"outdoor_coil_ice": frost})) == ("review", "in-heating")
    assert shown(visit({}, WARM, inspection={"outdoor_coil_ice": "clear"})) == (None, "")


def test_a_unit_without_a_valve_has_no_other_mode():
    assert shown(visit(HOT, WARM, kind="split_air_conditioner")) == (None, "")
    assert judges_cooling(load(Visit, visit(HOT, WARM, kind="split_air_conditioner")))
    assert not judges_cooling(load(Visit, visit(HOT, WARM)))


COLD_LINE = {"vapor_line_temperature": RETURN - AIR - BOTH}
COLD_AIR = {"supply_dry_bulb": RETURN - AIR - BOTH}
WARM_OUTSIDE = {"condenser_leaving_dry_bulb": 40 + OUTDOORS + BOTH}
COOL_LIQUID = {"liquid_line_temperature": RETURN - LIQUID - BOTH}
FAN = {"outdoor_fan_on": True}


@pytest.mark.parametrize(
    ("running", "air", "state", "variant"),
    [
        ({**FAN, **COLD_LINE}, COLD_AIR, "fail", "in-cooling"),
        ({**FAN, **COLD_LINE, **COOL_LIQUID}, {}, "fail", "in-cooling"),
        ({**FAN, **COOL_LIQUID}, COLD_AIR, "fail", "in-cooling"),
        ({**FAN, **COOL_LIQUID}, WARM_OUTSIDE, "review", "in-cooling"),
        ({**FAN}, COLD_AIR, "undecided", "in-cooling"),
        ({**FAN}, {}, None, ""),
        # With the fan standing, or nobody having looked, a defrost explains it.
        ({"outdoor_fan_on": False, **COLD_LINE}, COLD_AIR, "undecided", "defrost"),
        (COLD_LINE, COLD_AIR, "undecided", "defrost"),
        ({"vapor_line_temperature": RETURN + HOT_LINE + BOTH}, {}, "pass", ""),
    ],
)
def test_cooling_on_a_call_for_heating(running, air, state, variant):
    document = visit(running, {"outdoor_dry_bulb": 40, **air}, mode="heating")
    assert shown(document) == (state, variant)


def test_what_holds_in_cooling_is_not_judged_of_a_unit_that_heats():
    found = states(checked(visit({**HOT, **LEVEL, "minutes_running": 20}, WARM)))
    assert found["mode.reversed"] == "fail"
    assert found["charge.cooling-mode"] == "not_applicable"
    assert not {"readings.supply-warmer", "readings.suction-above-liquid", "air.split-low"} & set(found)


def test_the_evidence_names_the_readings_of_every_sign():
    item = finding(checked(visit({**HOT, **LEVEL}, {**WARM, **COLD_OUTSIDE})), "mode.reversed")
    lines = {f"/running/{name}" for name in ("suction_line_temperature", "suction_pressure", "liquid_pressure")}
    assert set(item.evidence) == lines | {f"/air/{name}" for name in (*AIRS, *WARM, *COLD_OUTSIDE)}


def test_a_start_in_the_other_mode_tells_nothing_of_the_pump():
    """Both gauges are on the high side and rise together."""
    start = {
        "suction_pressure_before": 210,
        "suction_pressure_after": 310,
        "liquid_pressure_before": 210,
        "liquid_pressure_after": 300,
        "seconds_after": 60,
    }
    found = states(checked(visit({**HOT, **LEVEL}, WARM, start_up=start)))
    assert found["start-up.pumps"] == "not_applicable"
    assert not {code for code, state in found.items() if code.startswith("start-up.") and state == "fail"}
