"""What is asked for and what is taken for granted, exactly; a visit that says enough is asked nothing."""

import pytest

from tests.checks.electrical.visits import asked, judged, ohms

OPEN = ohms(None)
PAIRS = {"common_run": ohms(0.9), "common_start": ohms(2.8), "run_start": ohms(3.7)}
FULL = {**PAIRS, "lead_ohms": 0, "read_at": "terminals", "winding_temperature": 77}
PUBLISHED = {"compressor": {"winding_ohms": {"common_run": 0.9}, "winding_ohms_temperature": 77}}
WIRES = {"wires_off_terminals": True}
TESTER = {"instrument": "insulation_tester", "common_to_shell": {"megohms": 300}}
W, PLATE = "/electrical/windings", "/equipment/compressor/winding_ohms"


@pytest.mark.parametrize(
    ("parts", "pointers", "assumed"),
    [
        ({"electrical": {"windings": FULL}, "inspection": WIRES, "equipment": PUBLISHED}, set(), set()),
        ({"electrical": {"windings": FULL}, "inspection": WIRES}, {PLATE}, set()),
        (
            {"electrical": {"windings": PAIRS}, "equipment": PUBLISHED},
            set(),
            {"windings.leads-not-nulled", "windings.wires-off", "windings.read-at-terminals", "windings.at-25-c"},
        ),
        (
            {"electrical": {"windings": {"common_run": OPEN, "read_at": "terminals"}}, "inspection": WIRES},
            {f"{W}/common_start", f"{W}/run_start"},
            set(),
        ),
        (
            {"electrical": {"insulation": {**TESTER, "minimum_megohms": 2, "winding_temperature": 70}}},
            set(),
            {"insulation.rated-volts"},
        ),
        (
            {"electrical": {"insulation": TESTER}, "equipment": {"nominal_voltage": "230"}},
            {"/electrical/insulation/minimum_megohms", "/electrical/insulation/winding_temperature"},
            set(),
        ),
        (
            {"electrical": {"insulation": {"instrument": "ohmmeter", "run_to_shell": OPEN}}},
            set(),
            {"insulation.rated-volts"},
        ),
        (
            {"electrical": {"insulation": {"run_to_shell": OPEN}}},
            {"/electrical/insulation/instrument"},
            {"insulation.rated-volts", "insulation.ohmmeter"},
        ),
        (
            {"electrical": {"run_capacitors": [{"serves": "compressor", "rated_microfarads": 45}]}},
            {"/electrical/run_capacitors/0/measured_microfarads"},
            {"capacitors.tolerance"},
        ),
        (
            {
                "electrical": {
                    "run_capacitors": [
                        {
                            "serves": "compressor",
                            "rated_microfarads": 45,
                            "tolerance_percent": 6,
                            "measured_amps": 5.6,
                            "measured_volts": 330,
                        }
                    ]
                }
            },
            set(),
            {"capacitors.frequency"},
        ),
        (
            {
                "equipment": {"nominal_voltage": "230"},
                "electrical": {"supply": {"idle_volts": 230, "starting_volts": 220}},
            },
            set(),
            set(),
        ),
        ({"electrical": {"supply": {"starting_volts": 220}}}, {"/electrical/supply/idle_volts"}, set()),
        ({"electrical": {"control": {"secondary_volts": 0}}}, {"/electrical/control/primary_volts"}, set()),
        ({"electrical": {"control": {"secondary_volts": 0, "primary_volts": 230}}}, set(), set()),
        (
            {"electrical": {"contactor": {"pulled_in": False}, "control": {"coil_volts": 25}}},
            {"/electrical/control/coil_resistance"},
            set(),
        ),
        ({"electrical": {"contactor": {"pulled_in": True}, "control": {"coil_volts": 25}}}, set(), set()),
        (
            {
                "electrical": {"currents": {"compressor_amps": 10}},
                "equipment": {"compressor": {"rated_load_amps": 10}},
            },
            set(),
            set(),
        ),
        ({"electrical": {"outdoor_fan": {"turns": False, "spins_free": True}}}, set(), set()),
        (
            {
                "equipment": {"indoor_blower": {"type": "constant_torque"}},
                "electrical": {
                    "indoor_blower": {"turns": False, "line_volts": 118, "call_present": True, "to_frame": OPEN}
                },
            },
            {
                "/electrical/indoor_blower/common_run",
                "/electrical/indoor_blower/common_start",
                "/electrical/indoor_blower/run_start",
            },
            set(),
        ),
        (
            {
                "electrical": {"protection": {"breaker_amps": 30, "conductor_gauge": 10}},
                "equipment": {"maximum_overcurrent_protection": 30, "minimum_circuit_ampacity": 20},
            },
            set(),
            set(),
        ),
        (
            {
                "electrical": {
                    "insulation": {"instrument": "ohmmeter", "run_to_shell": ohms(10)},
                },
                "equipment": {"nominal_voltage": "230"},
                "inspection": {"acid_test": "pass", "oil_colour": "clear"},
            },
            set(),
            set(),
        ),
    ],
)
def test_asked_and_assumed(parts, pointers, assumed):
    checked = judged(**parts)
    assert asked(checked) == pointers
    assert {item.code for item in checked.assumptions} == assumed


@pytest.mark.parametrize("drive", ["three_phase", "inverter"])
def test_three_windings_ask_nothing_more(drive):
    windings = {
        "one_two": ohms(2),
        "two_three": ohms(2),
        "one_three": ohms(2),
        "lead_ohms": 0,
        "read_at": "terminals",
    }
    checked = judged(drive, electrical={"windings": windings}, inspection=WIRES)
    assert asked(checked) == set()
    assert checked.assumptions == ()


def test_a_locked_rotor_asks_for_all_that_could_clear_the_compressor():
    checked = judged(
        equipment={"compressor": {"locked_rotor_amps": 96}},
        electrical={"currents": {"compressor_starting_amps": 90, "seconds_at_starting_amps": 3}},
    )
    assert asked(checked) == {
        "/electrical/supply/idle_volts",
        "/electrical/supply/starting_volts",
        "/electrical/windings",
        "/electrical/run_capacitors",
    }


def test_the_path_to_the_coil_asks_for_every_element_not_read():
    checked = judged(electrical={"control": {"y_volts": 25, "coil_volts": 0, "high_pressure_switch": "closed"}})
    names = ("low_pressure_switch", "float_switch", "leak_sensor", "discharge_temperature_switch")
    assert asked(checked) == {
        f"/electrical/control/{name}" for name in (*names, "motor_protection_module", "delay_running")
    }
