"""Doubts about what is in the unit: saturation lines (physics) and common practice."""

import pytest

from tests.checks.cooling.visits import (
    changed,
    checked,
    finding,
    liquid_psig,
    states,
    suction_psig,
    valve_unit,
)


def standing(stated, real, **members):
    """A settled system at 75 and 80 F that is said to hold one refrigerant and holds another."""
    return {
        "equipment": {"refrigerant": stated},
        "standing": {
            "pressure": liquid_psig(real, 78),
            "ambient_temperature": 80,
            "indoor_temperature": 75,
            "minutes_off": 60,
            **members,
        },
    }


@pytest.mark.parametrize(
    ("stated", "real"), [("R-22", "R-410A"), ("R-410A", "R-22"), ("R-410A", "R-134a"), ("R-134a", "R-22")]
)
def test_standing_pressure_of_another_refrigerant(stated, real):
    item = finding(checked(standing(stated, real)), "refrigerant.fits-another")
    assert item.state == "review"
    assert real in item.values["others"]
    assert "/standing/pressure" in item.evidence


@pytest.mark.parametrize("name", ["R-22", "R-410A", "R-32", "R-407C", "R-454B"])
def test_its_own_pressure_raises_no_doubt(name):
    assert "refrigerant.fits-another" not in states(checked(standing(name, name)))


@pytest.mark.parametrize(
    "members", [{"minutes_off": 5}, {"indoor_temperature": None}, {"ambient_temperature": None}]
)
def test_no_doubt_from_half_a_test(members):
    document = standing("R-22", "R-410A", **members)
    document["standing"] = {name: value for name, value in document["standing"].items() if value is not None}
    assert "refrigerant.fits-another" not in states(checked(document))


def test_running_readings_of_another_refrigerant_stop_the_verdict():
    """A unit with R-22 in it, read as R-410A: saturation comes out 40 F too low."""
    sound = valve_unit(refrigerant="R-22")
    found = checked(changed(sound, equipment={"refrigerant": "R-410A"}))
    item = finding(found, "refrigerant.fits-another")
    assert "R-22" in item.values["others"]
    assert set(item.evidence) == {
        "/running/suction_pressure", "/running/liquid_pressure", "/running/suction_line_temperature",
        "/running/liquid_line_temperature", "/air/outdoor_dry_bulb",
    }  # fmt: skip
    assert found.computed.charge.status == "undecided"


def test_far_off_every_curve_names_none():
    document = changed(valve_unit(), running={"suction_line_temperature": 200})
    assert "refrigerant.fits-another" not in states(checked(document))
    empty = standing("R-410A", "R-410A", pressure=20)
    assert "refrigerant.fits-another" not in states(checked(empty))


def test_pressures_beyond_another_refrigerants_range_do_not_fit_it():
    """R-32 at 560 psig lies above what R-404A and R-134a can have (critical 526 and 574 psig)."""
    document = standing("R-32", "R-32", pressure=570)
    assert "refrigerant.fits-another" not in states(checked(document))


@pytest.mark.parametrize(
    "parts",
    [
        {"equipment": {"mode": "heating"}},
        {"equipment": {"metering_location": "outdoor"}},
        {"air": {"outdoor_dry_bulb": None}},
        {"running": {"liquid_line_temperature": None}},
    ],
)
def test_no_doubt_where_the_running_set_does_not_tell(parts):
    document = changed(valve_unit(refrigerant="R-22"), equipment={"refrigerant": "R-410A"})
    assert "refrigerant.fits-another" not in states(checked(changed(document, **parts)))


def test_a_running_set_outside_a_candidates_range():
    document = changed(
        valve_unit(refrigerant="R-32"),
        running={"suction_pressure": suction_psig("R-32", 42), "liquid_pressure": liquid_psig("R-32", 150)},
    )
    found = checked(changed(document, running={"liquid_line_temperature": 60}))
    assert "refrigerant.fits-another" not in states(found)


@pytest.mark.parametrize(("nameplate", "there"), [("R-22", True), ("R-407C", False), ("407c", False)])
def test_retrofit(nameplate, there):
    document = changed(valve_unit(refrigerant="R-407C"), equipment={"nameplate_refrigerant": nameplate})
    found = checked(document)
    assert ("refrigerant.retrofit" in states(found)) is there
    assert found.computed.charge.status == "correct"


@pytest.mark.parametrize(("oil", "state"), [("poe", "pass"), ("mineral", "review")])
def test_oil(oil, state):
    assert states(checked(changed(valve_unit(), equipment={"oil": oil})))["refrigerant.oil"] == state


@pytest.mark.parametrize(
    ("name", "there"), [("R-407C", True), ("R-454B", True), ("R-410A", False), ("R-22", False)]
)
def test_a_blend_that_was_topped_up(name, there):
    document = valve_unit(refrigerant=name) | {"complaint": {"charge_added_recently": True}}
    assert ("refrigerant.topped-up" in states(checked(document))) is there
