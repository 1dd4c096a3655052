"""Readings that contradict one another are named; beyond the instruments' accuracy they raise the hold.

Grounds: physics (each test's comment), 1.3 F and 3.5 / 7 psi accuracy from the documented defaults.
"""

import pytest

from service.knowledge.catalogues import findings
from service.results.finding import State
from tests.checks.cooling.visits import (
    changed,
    checked,
    finding,
    liquid_psig,
    orifice_unit,
    states,
    suction_psig,
    valve_unit,
)

DRIER_WARMER = {"running": {"drier_inlet_temperature": 100, "drier_outlet_temperature": 104}}
DRIER_HARDLY_WARMER = {"running": {"drier_inlet_temperature": 100, "drier_outlet_temperature": 101}}
CLAMPS_SWAPPED = {"running": {"suction_line_temperature": 108, "liquid_line_temperature": 100}}
DISCHARGE_BELOW = {"running": {"suction_pressure": 130, "discharge_pressure": 110}}
CASES = [
    # A running compressor raises the pressure.
    ("readings.suction-above-liquid", {"running": {"suction_pressure": 350, "liquid_pressure": 118}}, "fail"),
    ("readings.suction-above-liquid", {"running": {"suction_pressure": 200, "liquid_pressure": 200}}, "review"),
    ("readings.suction-above-discharge", DISCHARGE_BELOW, "fail"),
    # Pressure falls along the flow.
    ("readings.liquid-above-discharge", {"running": {"discharge_pressure": 350}}, "fail"),
    # Vapour is no colder than its dew point, liquid no warmer than its bubble point.
    ("readings.superheat-negative", {"running": {"suction_line_temperature": 38}}, "fail"),
    ("readings.superheat-negative", {"running": {"suction_line_temperature": 41}}, "review"),
    ("readings.subcooling-negative", {"running": {"liquid_line_temperature": 119}}, "fail"),
    ("readings.subcooling-negative", {"running": {"liquid_line_temperature": 115.5}}, "review"),
    # Liquid takes up no heat in a drier.
    ("readings.drier-outlet-warmer", DRIER_WARMER, "fail"),
    ("readings.drier-outlet-warmer", DRIER_HARDLY_WARMER, "review"),
    # In cooling the suction line is the cold one.
    ("readings.suction-line-warmer", CLAMPS_SWAPPED, "fail"),
    # Compressed gas is no colder than its dew point; the line loses some of it, and liquid may come back.
    ("readings.discharge-below-saturation", {"running": {"discharge_line_temperature": 105}}, "review"),
    ("readings.discharge-below-saturation", {"running": {"discharge_line_temperature": 90}}, "fail"),
    # A cooling coil does not warm the air, a condenser does not cool it.
    ("readings.supply-warmer", {"air": {"supply_dry_bulb": 84}}, "fail"),
    ("readings.supply-warmer", {"air": {"supply_dry_bulb": 80.5}}, "review"),
    ("readings.condenser-air-colder", {"air": {"condenser_leaving_dry_bulb": 90}}, "fail"),
    # A condenser cools no further than the air it gets: a thermometer in the sun.
    ("readings.liquid-below-outdoor", {"air": {"outdoor_dry_bulb": 110}}, "fail"),
    # Wet bulb at most dry bulb, at least what bone-dry air has.
    ("readings.wet-bulb-above-dry-bulb", {"air": {"return_wet_bulb": 81}}, "review"),
    ("readings.wet-bulb-above-dry-bulb", {"air": {"return_wet_bulb": 82}}, "fail"),
    ("readings.wet-bulb-too-low", {"air": {"return_wet_bulb": 35}}, "fail"),
    ("readings.humidity-disagrees", {"air": {"return_relative_humidity": 90}}, "fail"),
    # Nobody cools a room of 27 F; 27 C is ordinary.
    ("readings.wrong-unit", {"air": {"return_dry_bulb": 27, "return_wet_bulb": 19}}, "fail"),
    # 8.5 and 28 psig are impossible in R-410A; 8.5 and 28 bar are ordinary.
    ("readings.wrong-unit", {"running": {"suction_pressure": 8.5, "liquid_pressure": 28}}, "fail"),
]


@pytest.mark.parametrize(("code", "parts", "state"), CASES)
def test_contradiction_is_named(code, parts, state):
    found = checked(changed(valve_unit(), **parts))
    item = finding(found, code)
    assert item.state == state
    said = {f"/{part}/{name}" for part, members in parts.items() for name in members}
    assert set(item.evidence) & said


@pytest.mark.parametrize(("code", "parts", "state"), CASES)
def test_only_beyond_the_accuracy_it_raises_the_hold_and_stops_the_verdict(code, parts, state):
    raised = findings()[code].raises.get(state, ())
    assert raised == (("hold.readings-contradict",) if state == "fail" else ())
    if state == "fail":
        assert checked(changed(valve_unit(), **parts)).computed.charge.status == "undecided"


STARVED = {"suction_line_temperature": 83, "liquid_line_temperature": 79}


@pytest.mark.parametrize(
    ("lines", "air", "state"),
    [
        # A starved coil on a cool day: the gas as warm as the air of the house, the liquid as cool as the day.
        (STARVED, {"outdoor_dry_bulb": 75, "return_dry_bulb": 84}, None),
        (STARVED, {"outdoor_dry_bulb": 75, "return_dry_bulb": 82}, "review"),
        # Warmer than any air around it: swapped clamps.
        (STARVED, {"outdoor_dry_bulb": 75, "return_dry_bulb": 72}, "fail"),
        (CLAMPS_SWAPPED["running"], {"outdoor_dry_bulb": 95, "return_dry_bulb": 80}, "fail"),
    ],
)
def test_a_suction_line_as_warm_as_the_house_contradicts_no_cool_liquid_line(lines, air, state):
    """Physics: the air is what warms the gas. Found on simulated restrictions and starved metering devices."""
    found = states(checked(changed(valve_unit(), running=lines, air=air)))
    assert found.get("readings.suction-line-warmer") == state


def test_a_sound_unit_contradicts_nothing():
    found = checked(valve_unit()), checked(orifice_unit())
    assert [code for one in found for code in states(one) if code.startswith("readings.")] == []


def test_the_wrong_unit_is_named_with_the_likely_one():
    found = checked(changed(valve_unit(), running={"suction_pressure": 8.5, "liquid_pressure": 28}))
    values = finding(found, "readings.wrong-unit").values
    assert (values["given"], values["likely"]) == ("psig", "barg")
    celsius = changed(valve_unit(), air={"return_dry_bulb": 27, "return_wet_bulb": 19})
    assert finding(checked(celsius), "readings.wrong-unit").values["likely"] == "degC"


@pytest.mark.parametrize(("unit", "line", "likely"), [("degF", 40, "degC"), ("degC", 104, "degF")])
def test_a_liquid_line_in_another_unit(unit, line, likely):
    """R-410A condensing at 115 F: liquid of 40 F or 104 C is impossible, 40 C and 104 F are one and ordinary."""
    document = {
        "units": {"temperature": unit},
        "equipment": {"refrigerant": "R-410A"},
        "running": {"liquid_pressure": liquid_psig("R-410A", 115), "liquid_line_temperature": line},
    }
    item = finding(checked(document), "readings.wrong-unit")
    assert (item.evidence, item.values["likely"]) == (("/running/liquid_line_temperature",), likely)


def test_impossible_in_every_unit_names_none():
    found = checked(changed(valve_unit(), running={"suction_pressure": 2.0, "liquid_pressure": 20.0}))
    assert "readings.wrong-unit" not in states(found)
    cold = checked({"air": {"return_dry_bulb": -20}})
    assert "readings.wrong-unit" not in states(cold)


def test_inside_the_glide_a_wet_line_is_no_contradiction():
    """R-407C boils over 6 K: a suction line 5 F under its dew point carries liquid and is not impossible."""
    document = valve_unit(superheat=-5.0, subcooling=-4.0, refrigerant="R-407C")
    found = checked(document)
    for code in ("readings.superheat-negative", "readings.subcooling-negative"):
        item = finding(found, code)
        assert (item.state, item.variant) == (State.REVIEW, "wet")
    beyond = checked(valve_unit(superheat=-20.0, refrigerant="R-407C"))
    assert finding(beyond, "readings.superheat-negative").state is State.FAIL


def test_swapped_hoses_at_the_start_are_recognised():
    document = {"start_up": {"suction_pressure_before": 150, "suction_pressure_after": 300,
                             "liquid_pressure_before": 150, "liquid_pressure_after": 100}}  # fmt: skip
    assert states(checked(document)) == {"readings.gauges-reversed": "fail", "pressure.high-side-unsafe": "pass"}


@pytest.mark.parametrize(("liquid", "there"), [(150, False), (157, False), (165, True), (130, True)])
def test_two_gauges_that_differ_at_rest(liquid, there):
    """A fixed restriction lets both sides level out; the two gauges may differ by 7.8 psi together."""
    document = {
        "equipment": {"metering_device": "capillary_tube"},
        "start_up": {"suction_pressure_before": 150, "liquid_pressure_before": liquid},
    }
    assert ("readings.gauge-not-zeroed" in states(checked(document))) is there
    valve = changed(document, equipment={"metering_device": "thermostatic_expansion_valve"})
    assert "readings.gauge-not-zeroed" not in states(checked(valve))


def test_heating_turns_lines_and_airs_round():
    document = changed(valve_unit(), equipment={"mode": "heating"}, air={"supply_dry_bulb": 100})
    assert "readings.supply-warmer" not in states(checked(document))


def test_a_stopped_outdoor_fan_explains_cold_leaving_air():
    document = changed(valve_unit(), air={"condenser_leaving_dry_bulb": 90}, running={"outdoor_fan_on": False})
    assert "readings.condenser-air-colder" not in states(checked(document))


def test_two_humidities_that_agree_say_nothing():
    document = changed(valve_unit(), air={"return_relative_humidity": 51})
    assert "readings.humidity-disagrees" not in states(checked(document))


def test_metering_outdoors_lets_the_small_line_be_cold():
    document = changed(
        valve_unit(),
        equipment={"metering_location": "outdoor"},
        running={"suction_line_temperature": 52, "liquid_line_temperature": 45, "liquid_pressure": 140},
    )
    found = states(checked(document))
    assert not any(code.startswith("readings.") for code in found)


def test_saturation_helpers_are_consistent():
    assert suction_psig("R-22", 40.0) == pytest.approx(liquid_psig("R-22", 40.0), abs=1e-3)
