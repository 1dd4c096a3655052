"""Capacitors, start parts, contactor, control: the paths that the golden cases leave out.

Circuit logic or common practice; where a number counts, its source stands in the topics.
"""

import pytest

from tests.checks.electrical.visits import asked, judged, ohms, one, states

OPEN = ohms(None)


def capacitor(**members):
    return {"run_capacitors": [members]}


def test_capacitor_without_a_label_is_asked():
    checked = judged(electrical=capacitor(measured_microfarads=40))
    assert states(checked)["capacitors.not-named"] == "undecided"
    assert "/electrical/run_capacitors/0/rated_microfarads" in asked(checked)


def test_capacitor_without_volts_is_asked():
    checked = judged(electrical=capacitor(serves="compressor", rated_microfarads=45, measured_amps=5))
    assert "/electrical/run_capacitors/0/measured_volts" in asked(checked)
    assert "capacitors.compressor" not in states(checked)


def test_capacitor_at_zero_volts_cannot_be_computed():
    item = {"serves": "compressor", "rated_microfarads": 45, "measured_amps": 0, "measured_volts": 0}
    checked = judged(electrical=capacitor(**item))
    assert checked.computed.run_capacitors[0].measured_microfarads is None


def test_terminals_that_are_not_shorted_do_not_judge_the_size():
    item = {"serves": "compressor", "rated_microfarads": 45, "terminal_ohms": 500}
    assert "capacitors.compressor" not in states(judged(electrical=capacitor(**item)))


def test_both_readings_bench_counts_when_proven_load_otherwise():
    item = {
        "serves": "compressor",
        "rated_microfarads": 45,
        "measured_microfarads": 44,
        "measured_amps": 3.0,
        "measured_volts": 330,
    }
    proven, unproven = judged(electrical=capacitor(**item)), judged(electrical=capacitor(**item), isolation={})
    assert states(proven)["capacitors.compressor"] == "pass"
    assert states(unproven)["capacitors.compressor"] == "fail"


def test_borderline_capacitor_is_said():
    """3 % of 42.5 is 1.3 microfarad, wider than the 0.2 to the limit of 42.3."""
    item = {"serves": "compressor", "rated_microfarads": 45, "measured_microfarads": 42.5}
    assert one(judged(electrical=capacitor(**item)), "capacitors.compressor").confidence == "borderline"


def test_label_tolerance_is_the_callers():
    item = {"serves": "compressor", "rated_microfarads": 45, "tolerance_percent": 10, "measured_microfarads": 41}
    found = one(judged(electrical=capacitor(**item)), "capacitors.compressor")
    assert (str(found.state), found.limit.origin) == ("pass", "request")


def start(**members):
    return {"start_components": members}


@pytest.mark.parametrize(
    ("parts", "code", "state", "variant"),
    [
        ({"start_capacitor": {"terminal_ohms": 0.0}}, "start.capacitor", "fail", "shorted"),
        (
            {"start_capacitor": {"rated_microfarads": 100, "measured_microfarads": 5}},
            "start.capacitor",
            "fail",
            "open",
        ),
        ({"start_capacitor": {"over_limit": True}}, "start.capacitor", "fail", "open"),
        (
            {"start_capacitor": {"rated_microfarads": 100, "tolerance_percent": 10, "measured_microfarads": 91}},
            "start.capacitor",
            "pass",
            "",
        ),
        ({"relay_contact_resistance": OPEN}, "start.relay-contact", "fail", "open"),
        ({"relay_contact_resistance": ohms(1.0)}, "start.relay-contact", "pass", ""),
        ({"solid_state_ohms": 25}, "start.solid-state", "pass", ""),
        ({"solid_state_ohms": 0.5}, "start.solid-state", "fail", "shorted"),
        ({"relay_contact_volts_running": 4.9}, "start.relay-contact-running", "fail", ""),
        ({"relay_contact_volts_running": 5}, "start.relay-contact-running", "pass", ""),
    ],
)
def test_start_parts(parts, code, state, variant):
    found = one(judged(electrical=start(**parts)), code)
    assert (str(found.state), found.variant) == (state, variant)


def test_start_capacitor_without_a_label_is_not_judged():
    parts = {"start_capacitor": {"measured_microfarads": 90, "terminal_ohms": OPEN}}
    assert "start.capacitor" not in states(judged(electrical=start(**parts)))


def test_line_state_must_be_known_for_an_open_pole():
    contactor = {"pulled_in": True, "load_volts": 0}
    assert "contactor.open-pole" not in states(judged(electrical={"contactor": contactor}))
    assert "contactor.open-pole" not in states(
        judged(electrical={"contactor": contactor, "supply": {"idle_volts": 0}})
    )


def test_open_pole_of_three_lines():
    electrical = {
        "contactor": {"pulled_in": True, "load_volts": 22.9},
        "supply": {"volts_ab": 230, "volts_bc": 229, "volts_ca": 231},
    }
    assert states(judged("three_phase", electrical=electrical))["contactor.open-pole"] == "fail"
    electrical["contactor"]["load_volts"] = 23.1
    assert states(judged("three_phase", electrical=electrical))["contactor.open-pole"] == "pass"


def test_heat_of_each_pole_takes_its_own_line():
    electrical = {
        "contactor": {"drop_volts_pole1": 0.2, "drop_volts_pole3": 0.1},
        "currents": {"amps_a": 20, "amps_b": 20, "amps_c": 10},
    }
    computed = judged("three_phase", electrical=electrical).computed.contactor
    assert computed.heat_watts_pole1.value == pytest.approx(4.0)
    assert computed.heat_watts_pole3.value == pytest.approx(1.0)
    assert computed.drop_percent_pole1 is None


def test_drop_without_amps_has_no_heat():
    computed = judged(
        electrical={"contactor": {"drop_volts_pole1": 0.2}, "supply": {"running_volts": 230}}
    ).computed
    assert computed.contactor.heat_watts_pole1 is None
    assert computed.contactor.drop_percent_pole1.value == pytest.approx(0.08696, abs=1e-5)


def control(**members):
    return {"control": members}


@pytest.mark.parametrize(
    ("members", "code", "variant"),
    [
        ({"secondary_volts": 26.9}, "control.secondary-voltage", "high"),
        ({"thermostat_calling": False}, "control.call", "not-calling"),
    ],
)
def test_control_variants(members, code, variant):
    assert one(judged(electrical=control(**members)), code).variant == variant


def test_y_is_asked_when_the_thermostat_calls():
    assert "/electrical/control/y_volts" in asked(judged(electrical=control(thermostat_calling=True)))


def test_a_leak_sensor_explains_a_dead_y():
    members = {"thermostat_calling": True, "y_volts": 0, "leak_sensor": "open"}
    assert "control.call" not in states(judged(electrical=control(**members)))


def test_a_dead_transformer_ends_the_trace():
    members = {"secondary_volts": 0, "thermostat_calling": True, "y_volts": 0}
    found = states(judged(electrical=control(**members)))
    assert "control.call" not in found
    assert found["control.transformer"] == "undecided"


@pytest.mark.parametrize(
    ("refrigerant", "switch", "pressure", "variant"),
    [
        ("R-410A", "high_pressure_switch", 300, "switch"),
        ("410a", "high_pressure_switch", 430, ""),
        ("R-22", "high_pressure_switch", 240, "switch"),
        ("R-22", "high_pressure_switch", 260, ""),
        ("R-22", "low_pressure_switch", 61, "switch"),
        ("R-22", "low_pressure_switch", 59, ""),
        ("R-134a", "low_pressure_switch", 90, ""),
        (None, "low_pressure_switch", 90, ""),
    ],
)
def test_a_pressure_past_its_reset_points_at_the_switch(refrigerant, switch, pressure, variant):
    """Reset ranges of the two pressure classes (common practice); other refrigerants are not judged."""
    equipment = {} if refrigerant is None else {"refrigerant": refrigerant}
    checked = judged(equipment=equipment, standing={"pressure": pressure}, electrical=control(**{switch: "open"}))
    assert one(checked, f"control.{switch.replace('_', '-')}").variant == variant


@pytest.mark.parametrize(
    ("switch", "side"), [("high_pressure_switch", "liquid"), ("low_pressure_switch", "suction")]
)
def test_the_gauge_before_the_start_serves_as_well(switch, side):
    checked = judged(
        equipment={"refrigerant": "R-410A"},
        start_up={f"{side}_pressure_before": 230},
        electrical=control(**{switch: "open"}),
    )
    found = one(checked, f"control.{switch.replace('_', '-')}")
    assert found.evidence[1] == f"/start_up/{side}_pressure_before"


def test_an_open_switch_without_a_gauge_stands_by_itself():
    checked = judged(equipment={"refrigerant": "R-410A"}, electrical=control(high_pressure_switch="open"))
    assert one(checked, "control.high-pressure-switch").variant == ""


def test_discharge_temperature_switch():
    checked = judged(electrical=control(discharge_temperature_switch="open"))
    assert states(checked)["control.discharge-temperature-switch"] == "fail"


def test_load_fed_while_nothing_calls_asks_for_the_coil():
    electrical = {"control": {"thermostat_calling": False}, "contactor": {"load_volts": 240}}
    checked = judged(electrical=electrical)
    assert states(checked)["contactor.welded"] == "undecided"
    assert "/electrical/control/coil_volts" in asked(checked)
    electrical["contactor"]["load_volts"] = 0
    assert "contactor.welded" not in states(judged(electrical=electrical))


def test_a_fan_seen_running_runs():
    assert states(judged(running={"outdoor_fan_on": True}))["fans.outdoor-runs"] == "pass"
    assert "fans.outdoor-runs" not in states(judged(running={"outdoor_fan_on": False}))


@pytest.mark.parametrize(("coil", "variant"), [(ohms(12), "jammed"), (OPEN, "coil"), (ohms(1), "coil")])
def test_no_pull_in_names_coil_or_armature(coil, variant):
    electrical = {"control": {"coil_volts": 25, "coil_resistance": coil}, "contactor": {"pulled_in": False}}
    assert one(judged(electrical=electrical), "contactor.pulls-in").variant == variant
