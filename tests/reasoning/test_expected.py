"""POST /v1/expected is never silent: readings, the standing pressure alone, or what is missing and why."""

import pytest

from service.reasoning.assessment import judge_expected
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.writing import written
from service.words.say import Speaker

UNIT = {"refrigerant": "R-410A", "metering_device": "thermostatic_expansion_valve"}


def expected(equipment=UNIT, air=None, **more):
    visit = load(Visit, {"equipment": equipment, "air": air or {}, **more})
    answer = judge_expected(visit)
    return answer, written(answer.computed, Speaker(visit.units, visit.site_pressure))


def weather(outdoor, **more):
    return {"outdoor_dry_bulb": outdoor, "return_dry_bulb": 75, "return_wet_bulb": 63, **more}


def told(answer):
    return {item.code: item.variant for item in answer.findings}


def test_nothing_sent_says_what_is_missing():
    answer, computed = expected({})
    assert "expected" not in computed
    needed = {item.pointer for item in answer.missing if item.allows == "missing.cycle"}
    assert needed == {"/equipment/refrigerant", "/air/outdoor_dry_bulb", "/air/return_dry_bulb"}


@pytest.mark.parametrize(("outdoor", "psig"), [(50, 143.3), (95, 296.0)])
def test_standing_pressure_from_outdoor_air_alone(outdoor, psig):
    """R-410A, bubble, published tables (from memory): 143 psig at 50 F, 295 to 297 psig at 95 F."""
    answer, computed = expected(air={"outdoor_dry_bulb": outdoor})
    span = computed["expected"]["standing"]["pressure"]
    assert span["likely"] == pytest.approx(psig, abs=1.5)
    assert span["low"] < span["likely"] < span["high"]
    assert {"/air/return_dry_bulb"} <= {item.pointer for item in answer.missing}
    assert "running" not in computed["expected"]


def test_no_standing_pressure_without_outdoor_air():
    assert "expected" not in expected(air={"return_dry_bulb": 75})[1]


@pytest.mark.parametrize("outdoor", [55, 58, 61, 65])
def test_cool_weather_is_told(outdoor):
    """Condensing 10 to 40 F over the outdoor air, suction near 40 F saturated (common practice, no source)."""
    answer, computed = expected(air=weather(outdoor))
    running = computed["expected"]["running"]
    assert 85 < running["suction_pressure"]["likely"] < 140
    condensing = running["liquid_pressure"]["likely"]
    assert 170 < condensing < 300
    extrapolated = outdoor < 61.4
    codes = {item.code for item in answer.assumptions}
    assert ("assumption.expected-cool" in codes) == extrapolated
    assert "after_repair" not in computed or not extrapolated


def test_cooler_means_less_head_pressure_and_a_wider_range():
    spans = [expected(air=weather(t))[1]["expected"]["running"]["liquid_pressure"] for t in (55, 60, 65)]
    assert spans[0]["likely"] < spans[1]["likely"] < spans[2]["likely"]
    widths = [(span["high"] - span["low"]) / span["likely"] for span in spans]
    assert widths[0] > widths[2]


@pytest.mark.parametrize(
    ("equipment", "more", "variant"),
    [
        (UNIT, {"air": weather(50)}, "weather"),
        (UNIT | {"mode": "heating"}, {"air": weather(80)}, "heating"),
        (UNIT | {"compressor": {"drive": "inverter"}}, {"air": weather(80)}, "inverter"),
        (UNIT | {"metering_location": "outdoor"}, {"air": weather(80)}, "metering-outdoors"),
        (UNIT, {"air": weather(80), "running": {"unloaded": True}}, "part-load"),
        (UNIT | {"stages": 2}, {"air": weather(80), "running": {"stage": 1}}, "part-load"),
        (UNIT, {"air": weather(80), "running": {"minutes_running": 5}}, "starting"),
        (UNIT | {"refrigerant": "R-744"}, {"air": weather(80)}, "not-modelled"),
    ],
)
def test_why_it_is_not_told(equipment, more, variant):
    answer, computed = expected(equipment, **more)
    assert told(answer)["expected.not-told"] == variant
    assert "running" not in computed.get("expected", {})


def test_a_full_answer_needs_no_excuse():
    answer, computed = expected(air=weather(90))
    assert "expected.not-told" not in told(answer)
    assert computed["expected"]["running"]["suction_pressure"]["likely"] > 0
