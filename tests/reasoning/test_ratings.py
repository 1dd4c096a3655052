"""Ratings of parts: taken from what the visit read, said as a parts counter understands them."""

import pytest

from service.reasoning.ratings import rated_part, stock_rating
from service.results.finding import Finding, Severity, State
from service.results.planned import PartNeeded
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.writing import written
from service.words.say import Speaker


def said(code, document, *failed):
    visit = load(Visit, document)
    findings = [Finding("capacitors.compressor", State.FAIL, Severity.WARNING, (pointer,)) for pointer in failed]
    part = PartNeeded(code, rated_part(code, visit, findings))
    return written(part, Speaker(visit.units, visit.site_pressure)).get("rating")


def capacitors(*items):
    return {"electrical": {"run_capacitors": list(items)}}


FAN = {"serves": "outdoor_fan", "rated_microfarads": 5, "rated_volts": 370}
COMPRESSOR = {"serves": "compressor", "rated_microfarads": 45, "rated_volts": 440}


def test_a_dual_capacitor_is_named_by_both_sections_and_the_higher_voltage():
    shared = [item | {"shares_can": True} for item in (FAN, COMPRESSOR)]
    assert said("part.run-capacitor", capacitors(*shared)) == "45/5 µF 440 V"


def test_of_two_cans_the_failed_one_is_named():
    document = capacitors(COMPRESSOR, FAN)
    assert said("part.run-capacitor", document) == "45 µF 440 V"
    failed = "/electrical/run_capacitors/1/measured_microfarads"
    assert said("part.run-capacitor", document, failed) == "5 µF 370 V"
    both = (failed, "/electrical/run_capacitors/0/measured_microfarads")
    assert said("part.run-capacitor", document, *both) == "45 µF 440 V, 5 µF 370 V"


def test_a_failed_section_of_a_dual_can_takes_the_whole_can():
    third = {"serves": "indoor_blower", "rated_microfarads": 10}
    document = capacitors(third, FAN | {"shares_can": True}, COMPRESSOR | {"shares_can": True})
    assert said("part.run-capacitor", document, "/electrical/run_capacitors/1/over_limit") == "45/5 µF 440 V"
    assert said("part.run-capacitor", document, "/electrical/run_capacitors/0/over_limit") == "10 µF"


def test_a_label_that_nobody_read_gives_no_rating():
    assert said("part.run-capacitor", capacitors({"measured_microfarads": 3.1})) is None


@pytest.mark.parametrize(
    ("code", "document", "rating"),
    [
        (
            "part.contactor",
            {"electrical": {"contactor": {"poles": 2}}, "equipment": {"compressor": {"rated_load_amps": 18.5}}},
            "2-pole, above 18.5 A, 24 V coil",
        ),
        ("part.contactor", {"electrical": {"contactor": {"poles": 1}}}, "1-pole, 24 V coil"),
        (
            "part.compressor",
            {
                "equipment": {
                    "refrigerant": "R-410A",
                    "nominal_voltage": "208_230",
                    "phases": 1,
                    "compressor": {"type": "scroll", "rated_load_amps": 14.1},
                }
            },
            "scroll, R-410A, 208/230 V, 1-phase, 14.1 A rated load",
        ),
        ("part.outdoor-fan-motor", {"equipment": {"outdoor_fan": {"full_load_amps": 1.2}}}, "1.2 A full load"),
        ("part.indoor-blower-motor", {"equipment": {"indoor_blower": {"full_load_amps": 4}}}, "4 A full load"),
    ],
)
def test_ratings_come_from_the_nameplate(code, document, rating):
    assert said(code, document) == rating


CODES = ["run-capacitor", "contactor", "compressor", "outdoor-fan-motor", "indoor-blower-motor", "control-board"]


@pytest.mark.parametrize("code", CODES)
def test_nothing_known_gives_no_rating(code):
    assert rated_part(f"part.{code}", Visit()) == ()


def test_a_truck_carries_common_sizes_of_some_parts_and_never_of_a_compressor():
    assert stock_rating("part.run-capacitor")[0].code == "rating.stock-run-capacitor"
    assert stock_rating("part.compressor") == ()
