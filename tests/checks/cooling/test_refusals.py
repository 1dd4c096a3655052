"""The closed list of readings that are refused (422) with a pointer each."""

import pytest

from service.checks.plausible.refusals import refuse_impossible
from service.results.refusal import Refusal
from service.words.refusing import said
from tests.checks.cooling.visits import changed, checked, valve_unit, visit_of


def refused(document):
    with pytest.raises(Refusal) as caught:
        refuse_impossible(visit_of(document))
    return {error.pointer: error for error in caught.value.errors}


@pytest.mark.parametrize("name", ["R-999", "freon", "R-438A"])
def test_unknown_refrigerant(name):
    assert list(refused({"equipment": {"refrigerant": name}})) == ["/equipment/refrigerant"]
    assert list(refused({"equipment": {"nameplate_refrigerant": name}})) == ["/equipment/nameplate_refrigerant"]
    both = {"equipment": {"refrigerant": "R-22", "nameplate_refrigerant": name}}
    assert list(refused(both)) == ["/equipment/nameplate_refrigerant"]


@pytest.mark.parametrize(
    "pointer", ["running/suction_pressure", "standing/pressure", "start_up/liquid_pressure_after"]
)
def test_pressure_not_above_absolute_zero(pointer):
    part, name = pointer.split("/")
    errors = refused({part: {name: -14.7}})
    assert errors[f"/{pointer}"].code == "pressure.not-above-absolute-zero"


def test_every_wrong_pressure_is_named_at_once():
    document = changed(valve_unit(), running={"suction_pressure": -14.7, "liquid_pressure": 900})
    assert set(refused(document)) == {"/running/suction_pressure", "/running/liquid_pressure"}


def test_range_belongs_to_the_refrigerant():
    document = {"running": {"liquid_pressure": 690}}
    refuse_impossible(visit_of(document))
    assert "/running/liquid_pressure" in refused(document | {"equipment": {"refrigerant": "R-410A"}})


def test_design_pressures_need_only_be_positive():
    refuse_impossible(visit_of({"equipment": {"refrigerant": "R-410A", "high_side_design_pressure": 800}}))
    errors = refused({"equipment": {"high_side_design_pressure": -20}})
    assert list(errors) == ["/equipment/high_side_design_pressure"]


def test_a_pump_down_may_go_below_the_saturation_range():
    refuse_impossible(
        visit_of({"equipment": {"refrigerant": "R-410A"}, "running": {"pump_down_suction_pressure": -12}})
    )


# Two thermometers of 1.3 F each: 2.6 F together.
@pytest.mark.parametrize("side", ["return", "supply"])
@pytest.mark.parametrize(("wet_bulb", "is_refused"), [(82.5, False), (82.7, True)])
def test_wet_bulb_above_dry_bulb_beyond_both_accuracies(side, wet_bulb, is_refused):
    document = {"air": {f"{side}_dry_bulb": 80, f"{side}_wet_bulb": wet_bulb}}
    if not is_refused:
        refuse_impossible(visit_of(document))
        return
    error = refused(document)[f"/air/{side}_wet_bulb"]
    assert error.code == "wet-bulb.above-dry-bulb"
    assert "80 degF" in said(error.detail, "en")


def test_the_baseline_is_held_to_the_same():
    baseline = {"running": {"suction_pressure": -15}, "air": {"return_dry_bulb": 70, "return_wet_bulb": 75}}
    assert set(refused({"baseline": baseline})) == {
        "/baseline/running/suction_pressure",
        "/baseline/air/return_wet_bulb",
    }
    refuse_impossible(visit_of({"baseline": {"running": {"suction_pressure": 60}}}))


def test_checks_refuse_by_themselves():
    with pytest.raises(Refusal):
        checked({"equipment": {"refrigerant": "R-22"}, "running": {"suction_pressure": 900}})
