"""Standing pressure against saturation (published saturation tables; physics of a closed vessel)."""

import pytest

from service.checks.refrigerant.standing import check_standing
from service.results.finding import Confidence
from tests.checks.cooling.visits import finding, liquid_psig, spoken, states, suction_psig, visit_of

SETTLED = {"ambient_temperature": 85, "indoor_temperature": 75, "minutes_off": 30}


def standing(pressure, refrigerant="R-410A", **members):
    document = {
        "equipment": {"refrigerant": refrigerant},
        "standing": {"pressure": pressure, **SETTLED, **members},
    }
    document["standing"] = {name: value for name, value in document["standing"].items() if value is not None}
    return spoken(check_standing(visit_of(document)))


# Published point: R-22 at 32 F (0 C) holds 57.549 psig (Moran & Shapiro, table A-7).
def test_saturation_of_the_ambient_is_the_published_one():
    found = standing(57.549, "R-22", ambient_temperature=32, indoor_temperature=32)
    computed = found.computed
    assert computed.ambient_saturation_pressure.value / 6894.757 - 14.696 == pytest.approx(57.549, abs=0.05)
    assert abs(computed.pressure_difference.value) < 400.0
    assert set(states(found).values()) == {"pass"}


@pytest.mark.parametrize(
    ("temperature", "foreign"), [(75, "pass"), (80, "not_applicable"), (85, "not_applicable")]
)
@pytest.mark.parametrize("refrigerant", ["R-22", "R-410A", "R-407C", "R-32"])
def test_between_the_two_places_liquid_is_not_lost_and_foreign_gas_cannot_be_told(
    temperature, foreign, refrigerant
):
    """Physics of two vessels that communicate: liquid in the colder and foreign gas hold any pressure between."""
    found = standing(liquid_psig(refrigerant, temperature), refrigerant)
    assert states(found) == {"standing.liquid-lost": "pass", "standing.non-condensables": foreign}


def test_two_places_within_the_thermometers_accuracy_are_one():
    found = standing(liquid_psig("R-410A", 75.5), indoor_temperature=75, ambient_temperature=75.5)
    assert states(found)["standing.non-condensables"] == "pass"


def test_below_the_colder_place_liquid_is_lost():
    found = standing(suction_psig("R-410A", 60))
    assert states(found) == {"standing.liquid-lost": "fail", "standing.non-condensables": "pass"}
    assert finding(found, "standing.liquid-lost").limit.low is not None


def test_above_the_warmer_place_something_does_not_condense():
    found = standing(liquid_psig("R-410A", 95))
    assert states(found) == {"standing.liquid-lost": "pass", "standing.non-condensables": "fail"}


def test_within_the_gauges_accuracy_it_is_agreement_and_said_to_be_near():
    found = standing(liquid_psig("R-410A", 85) + 5)
    item = finding(found, "standing.non-condensables")
    assert (item.state, item.confidence) == ("pass", Confidence.BORDERLINE)


@pytest.mark.parametrize("missing", ["indoor_temperature", "minutes_off"])
@pytest.mark.parametrize(
    ("temperature", "code"), [(50, "standing.liquid-lost"), (100, "standing.non-condensables")]
)
def test_half_known_is_only_for_review(missing, temperature, code):
    found = standing(liquid_psig("R-410A", temperature), **{missing: None})
    assert states(found)[code] == "review"
    assert f"/standing/{missing}" in [item.pointer for item in found.missing]


@pytest.mark.parametrize(("minutes", "code"), [(14.9, "standing.settled"), (15, "standing.liquid-lost")])
def test_too_soon_after_running_nothing_is_said(minutes, code):
    assert code in states(standing(100, minutes_off=minutes))


def test_no_pressure_at_all_needs_no_table():
    for refrigerant in (None, "R-410A"):
        document = {"standing": {"pressure": 3, "ambient_temperature": 80}}
        if refrigerant:
            document["equipment"] = {"refrigerant": refrigerant}
        found = check_standing(visit_of(document))
        assert finding(found, "standing.liquid-lost").variant == "empty"


def test_without_refrigerant_or_temperatures_it_says_what_is_missing():
    found = check_standing(visit_of({"standing": {"pressure": 150}}))
    assert found.findings == ()
    assert {item.pointer for item in found.missing} == {
        "/equipment/refrigerant",
        "/standing/ambient_temperature",
        "/standing/indoor_temperature",
        "/standing/minutes_off",
    }


def test_nothing_read_nothing_said():
    found = check_standing(visit_of({}))
    assert (found.findings, found.missing) == ((), ())


def test_hotter_than_the_refrigerants_range_gives_no_limit_from_there():
    found = standing(400, ambient_temperature=180)
    assert "standing.non-condensables" not in states(found)
    assert found.computed.ambient_saturation_pressure is None
    both = standing(400, ambient_temperature=180, indoor_temperature=180)
    assert both.findings == ()
