"""A heat pump in heating: head, outdoor coil, rise, the gauge port and the defrost, at and beyond each bound.

Grounds: see `service/checks/refrigerant/heating.py`; the bounds are read from the limits.
"""

import pytest

from service.checks.seen.inspection import check_inspection
from service.knowledge.limits import limit
from service.results.visit import Visit
from service.schemas.documents import load
from tests.checks.cooling.visits import checked, finding, liquid_psig, states, suction_psig

F = 1.8
REFRIGERANT, RETURN, OUTDOOR = "R-410A", 70.0, 40.0
HEAD = limit("heating.condensing-over-return").value * F
COLD = limit("heating.evaporating-below-outdoor").value * F
WARM = limit("heating.evaporating-least-below").value * F
LOW, HIGH = limit("heating.rise-lowest").value * F, limit("heating.rise-highest").value * F
STARVED = limit("charge.valve-superheat-highest").value * F


def visit(evaporating=20.0, condensing=105.0, rise=25.0, superheat=8.0, equipment=None, **running):
    return {
        "equipment": {
            "kind": "split_heat_pump",
            "mode": "heating",
            "refrigerant": REFRIGERANT,
            "metering_device": "thermostatic_expansion_valve",
            **(equipment or {}),
        },
        "running": {
            "minutes_running": 20,
            "suction_pressure": suction_psig(REFRIGERANT, evaporating),
            "liquid_pressure": liquid_psig(REFRIGERANT, condensing),
            "suction_line_temperature": evaporating + superheat,
            "outdoor_fan_on": True,
            **running,
        },
        "air": {"outdoor_dry_bulb": OUTDOOR, "return_dry_bulb": RETURN, "supply_dry_bulb": RETURN + rise},
    }


def of_heating(document):
    return {code: state for code, state in states(checked(document)).items() if code.startswith("heating.")}


def test_a_sound_unit_passes_every_check_of_heating():
    assert set(of_heating(visit()).values()) == {"pass"}


@pytest.mark.parametrize(
    ("members", "code", "at", "beyond"),
    [
        ("condensing", "heating.head-high", RETURN + HEAD - 0.3, RETURN + HEAD + 0.3),
        ("evaporating", "heating.outdoor-coil-cold", OUTDOOR - COLD + 0.3, OUTDOOR - COLD - 0.3),
        ("evaporating", "heating.outdoor-coil-warm", OUTDOOR - WARM - 0.3, OUTDOOR - WARM + 0.3),
        ("rise", "heating.rise-low", LOW + 0.1, LOW - 0.1),
        ("rise", "heating.rise-high", HIGH - 0.1, HIGH + 0.1),
    ],
)
def test_each_bound_is_kept_and_broken(members, code, at, beyond):
    assert of_heating(visit(**{members: at}))[code] == "pass"
    assert of_heating(visit(**{members: beyond}))[code] == "review"


@pytest.mark.parametrize(
    ("running", "variant"),
    [
        ({"superheat": STARVED - 1.0}, "air"),
        ({"superheat": STARVED + 1.0}, "starved"),
        ({"suction_line_temperature": None}, ""),
    ],
)
def test_superheat_tells_ice_from_low_charge(running, variant):
    document = visit(evaporating=OUTDOOR - COLD - 5.0, **running)
    if document["running"]["suction_line_temperature"] is None:
        del document["running"]["suction_line_temperature"]
    item = finding(checked(document), "heating.outdoor-coil-cold")
    assert (str(item.state), item.variant) == ("review", variant)
    assert ("/running/suction_line_temperature" in item.evidence) == bool(variant)


@pytest.mark.parametrize("running", [{"minutes_running": 5}, {"outdoor_fan_on": False}])
def test_nothing_is_judged_before_it_runs_steadily(running):
    assert set(of_heating(visit(rise=5.0, condensing=140.0, **running)).values()) == {"undecided"}


def test_at_part_load_little_heat_and_a_warm_coil_are_ordinary():
    found = of_heating(visit(evaporating=39.0, rise=5.0, unloaded=True))
    assert found["heating.rise-low"] == found["heating.outdoor-coil-warm"] == "undecided"
    assert found["heating.outdoor-coil-cold"] == "pass"


@pytest.mark.parametrize(
    ("line", "variant"),
    [(40.0, ""), (RETURN + limit("mode.hot-line").value * F + 3.0, "vapor-valve")],
)
def test_a_gauge_on_the_vapor_valve_tells_no_suction(line, variant):
    document = visit(suction_line_temperature=line, suction_pressure=340, liquid_pressure=330)
    found = checked(document)
    item = finding(found, "heating.suction-port")
    assert (str(item.state), item.variant) == ("undecided", variant)
    said = states(found)
    assert not {"heating.outdoor-coil-cold", "heating.outdoor-coil-warm", "running.floodback"} & set(said)
    assert not {"readings.suction-above-liquid", "compressor.no-pressure-difference"} & set(said)


@pytest.mark.parametrize(("works", "state"), [(True, "pass"), (False, "fail")])
def test_a_forced_defrost_counts_though_the_unit_cools_meanwhile(works, state):
    document = visit()
    document["electrical"] = {"control": {"defrost_works": works}}
    assert of_heating(document)["heating.defrost"] == state
    document["air"]["supply_dry_bulb"] = RETURN - 12.0
    assert of_heating(document) == {"heating.defrost": state}


@pytest.mark.parametrize(
    ("mode", "ice", "state"),
    [
        ("heating", "clear", "pass"),
        ("heating", "frost", "pass"),
        ("heating", "iced", "fail"),
        ("cooling", "clear", "pass"),
        ("cooling", "frost", "review"),
        ("cooling", "iced", "review"),
    ],
)
def test_frost_outdoors_is_ordinary_in_heating_alone(mode, ice, state):
    document = {"equipment": {"mode": mode}, "inspection": {"outdoor_coil_ice": ice}}
    (item,) = check_inspection(load(Visit, document)).findings
    assert (item.code, str(item.state)) == ("inspection.outdoor-coil-iced", state)


@pytest.mark.parametrize("absent", ["return_dry_bulb", "outdoor_dry_bulb", "supply_dry_bulb"])
def test_what_is_compared_with_an_air_needs_that_air(absent):
    document = visit()
    del document["air"][absent]
    needs = {
        "return_dry_bulb": {"heating.head-high", "heating.rise-low", "heating.rise-high"},
        "outdoor_dry_bulb": {"heating.outdoor-coil-cold", "heating.outdoor-coil-warm"},
        "supply_dry_bulb": {"heating.rise-low", "heating.rise-high"},
    }
    assert set(of_heating(visit())) - set(of_heating(document)) == needs[absent]
