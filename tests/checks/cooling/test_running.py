"""Running readings for themselves. Limits: topics/running.yaml says where each comes from."""

import pytest

from tests.checks.cooling.visits import changed, checked, finding, liquid_psig, orifice_unit, states, valve_unit


# Automatic cut-outs open from 600 psig (R-410A) and 375 psig on: common practice, maker values.
@pytest.mark.parametrize(
    ("refrigerant", "psig", "state"),
    [("R-410A", 599.9, "pass"), ("R-410A", 600, "fail"), ("R-22", 374.9, "pass"), ("R-22", 375, "fail")],
)
@pytest.mark.parametrize("pointer", ["running/discharge_pressure", "running/liquid_pressure", "standing/pressure"])
def test_high_side_at_its_cut_out(refrigerant, psig, state, pointer):
    part, name = pointer.split("/")
    document = {"equipment": {"refrigerant": refrigerant}, part: {name: psig}}
    item = finding(checked(document), "pressure.high-side-unsafe")
    assert item.state == state
    assert item.evidence == (f"/{pointer}",)


def test_other_refrigerants_by_the_saturation_temperature_of_those_cut_outs():
    """375 psig of R-22 and 600 psig of R-410A are both 148 to 150 F at saturation."""
    for name, psig in (("R-22", 375), ("R-410A", 600)):
        assert liquid_psig(name, 148) < psig < liquid_psig(name, 150.5)
    for name in ("R-407C", "R-32", "R-134a"):
        limit = finding(
            checked({"equipment": {"refrigerant": name}, "running": {"liquid_pressure": 150}}),
            "pressure.high-side-unsafe",
        ).limit
        assert limit.high / 6894.757 - 14.696 == pytest.approx(liquid_psig(name, 149), abs=0.3)


@pytest.mark.parametrize("refrigerant", [None, "R-404A", "R-744"])
def test_without_a_class_the_highest_cut_out_stands_in(refrigerant):
    """R-404A and R-744 are too near their critical points (72 and 31 C) for saturation at 65 C."""
    document = {"running": {"liquid_pressure": 400}}
    if refrigerant:
        document["equipment"] = {"refrigerant": refrigerant}
    limit = finding(checked(document), "pressure.high-side-unsafe").limit
    assert limit.high / 6894.757 - 14.696 <= 600.01


@pytest.mark.parametrize(("design", "origin"), [(450, "request"), (650, "default")])
def test_the_lower_of_nameplate_and_cut_out_counts(design, origin):
    document = changed(
        valve_unit(), equipment={"high_side_design_pressure": design}, running={"liquid_pressure": 455}
    )
    item = finding(checked(document), "pressure.high-side-unsafe")
    assert item.limit.origin == origin
    assert item.state == ("fail" if origin == "request" else "pass")
    assert ("/equipment/high_side_design_pressure" in item.evidence) is (origin == "request")


# 3 F across the drier: common practice, from memory.
@pytest.mark.parametrize(("outlet", "state"), [(100, "pass"), (97, "pass"), (96.9, "fail")])
def test_drier_drop(outlet, state):
    document = {"running": {"drier_inlet_temperature": 100, "drier_outlet_temperature": outlet}}
    assert states(checked(document)) == {"restriction.drier-drop": state}


@pytest.mark.parametrize(("superheat", "state"), [(5.0, "pass"), (0.9, "fail"), (-1.0, "fail")])
def test_liquid_at_the_compressor(superheat, state):
    assert states(checked(valve_unit(superheat=superheat)))["running.floodback"] == state


@pytest.mark.parametrize(("superheat", "sure"), [(5.0, "firm"), (0.9, "borderline"), (-1.9, "firm")])
def test_no_superheat_within_the_accuracy_is_not_sure_to_be_liquid(superheat, sure):
    """1.3 F of the clamp and 3.5 psi of the gauge (documented defaults) are about 2 F of superheat here."""
    assert finding(checked(valve_unit(superheat=superheat)), "running.floodback").confidence == sure


def test_superheat_at_the_compressor_counts_after_the_reversing_valve():
    document = changed(valve_unit(superheat=0.5), running={"reversing_valve_suction_out_temperature": 55})
    found = checked(document)
    assert states(found)["running.floodback"] == "pass"
    assert found.computed.running.total_superheat.value > found.computed.running.superheat.value


@pytest.mark.parametrize(("psig", "state"), [(58, "pass"), (57, "review")])
def test_a_coil_below_freezing(psig, state):
    """R-22 holds 57.549 psig at 32 F (Moran & Shapiro, table A-7)."""
    document = {"equipment": {"refrigerant": "R-22"}, "running": {"suction_pressure": psig}}
    assert states(checked(document))["running.coil-freezing"] == state


# Condensing over outdoor by class (from memory): 30 / 25 / 20 / 15 F, and 5 F margin (project choice).
@pytest.mark.parametrize(
    ("equipment", "highest"),
    [
        ({}, 35),
        ({"seer": 8}, 35),
        ({"seer": 10}, 30),
        ({"seer": 13}, 25),
        ({"seer": 16}, 20),
        ({"efficiency_class": "standard"}, 30),
        ({"efficiency_class": "high"}, 20),
    ],
)
def test_condensing_over_outdoor_by_class(equipment, highest):
    below = changed(orifice_unit(), equipment=equipment, air={"outdoor_dry_bulb": 115.1 - highest})
    above = changed(orifice_unit(), equipment=equipment, air={"outdoor_dry_bulb": 114.9 - highest})
    assert states(checked(below))["running.condensing-high"] == "pass"
    assert states(checked(above))["running.condensing-high"] == "fail"


@pytest.mark.parametrize(("over", "sure"), [(26, "borderline"), (29, "borderline"), (31.5, "firm")])
def test_a_little_above_the_class_is_borderline(over, sure):
    """Common practice, no source: sound units of one class spread; 17 % of simulated ones at SEER 14 were called
    faulty by this check alone."""
    document = changed(orifice_unit(), equipment={"seer": 14}, air={"outdoor_dry_bulb": 115 - over})
    (found,) = [item for item in checked(document).findings if item.code == "running.condensing-high"]
    assert (str(found.state), str(found.confidence)) == ("fail", sure)


@pytest.mark.parametrize(
    ("parts", "state"),
    [
        ({"running": {"outdoor_fan_on": False}}, "undecided"),
        ({"equipment": {"head_pressure_control": "fan_cycling"}}, "not_applicable"),
        ({"equipment": {"head_pressure_control": "none"}}, "fail"),
        ({"running": {"outdoor_fan_on": True}}, "fail"),
    ],
)
def test_when_condensing_over_outdoor_is_not_judged(parts, state):
    document = changed(orifice_unit(), air={"outdoor_dry_bulb": 65}, **parts)
    assert states(checked(document))["running.condensing-high"] == state


@pytest.mark.parametrize(("on", "state"), [(True, "pass"), (False, "fail")])
def test_outdoor_fan(on, state):
    assert states(checked({"running": {"outdoor_fan_on": on}}))["running.outdoor-fan-off"] == state


def test_heating_is_not_judged_as_cooling():
    found = states(checked(changed(orifice_unit(), equipment={"mode": "heating"})))
    assert not set(found) & {"running.condensing-high", "running.coil-freezing", "air.split-high"}
