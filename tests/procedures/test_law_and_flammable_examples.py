"""Worked examples of law, cylinders and flammable charges; each names its source and kind."""

import json
from pathlib import Path

import pytest

from service.app import create_app
from service.knowledge.limits import limit
from service.knowledge.refrigerants import find
from service.physics.cylinder import liquid_limit

POUND = 0.45359237  # kg, exact
WATER = 1000.0  # kg/m3; the water capacity of a cylinder is the mass of water that fills it
SAMPLES = Path(__file__).parents[2] / "samples" / "visits"


def test_flammability_limit_of_r32_by_mass():
    """14.4 % by volume at 23 C and 101.325 kPa, ideal gas, M 52.02 g/mol: 0.308 kg/m3 (ISO 817; from memory)."""
    by_gas_law = 0.144 * 101325.0 * 0.05202 / (8.314462618 * 296.15)
    assert find("R-32").lower_flammability_limit == pytest.approx(by_gas_law, rel=0.01)


@pytest.mark.parametrize(("volume_rule", "kilograms"), [("procedures.small-charge-volume", 1.842)])
def test_us_threshold_below_which_no_room_is_asked_for(volume_rule, kilograms):
    """6 m3 x 0.307 kg/m3 = 1.842 kg, 4.06 lb (UL 60335-2-40, from memory)."""
    lower_limit = find("R-32").lower_flammability_limit
    assert lower_limit is not None
    assert limit(volume_rule).value * lower_limit == pytest.approx(kilograms, rel=0.005)


def test_iec_threshold_of_four_cubic_metres():
    """4 m3 x 0.307 kg/m3 = 1.228 kg (IEC 60335-2-40, from memory)."""
    lower_limit = find("R-32").lower_flammability_limit
    assert lower_limit is not None
    four = limit("procedures.small-charge-volume-highly-flammable").value
    assert four * lower_limit == pytest.approx(1.228, rel=0.005)


def test_a_quarter_of_the_limit_in_a_room():
    """0.25 x 0.307 kg/m3 x 20 m2 x 2.2 m = 3.377 kg (25 % practice, from memory)."""
    request = {
        "units": {"length": "m", "mass": "kg", "diameter": "mm"},
        "equipment": {
            "refrigerant": "R-32",
            "room_area": 20,
            "factory_charge": 3.0,
            "included_line_length": 5,
            "line_length": 5,
            "liquid_line_diameter": 9.525,
        },
        "room_height": 2.2,
    }
    body = create_app().test_client().post("/v1/procedures/weighed-charge", json=request).get_json()
    room = next(finding for finding in body["findings"] if finding["code"] == "weighed-charge.room")
    assert room["limit"]["high"] == pytest.approx(3.377, rel=0.005)


def test_eighty_percent_of_a_cylinder():
    """0.8 x 26.2 lb x 1.06 = 22.22 lb (80 % rule as taught; specific gravity assumed, from memory)."""
    most = liquid_limit(26.2 * POUND, 1.06 * WATER, 0.8)
    assert most / POUND == pytest.approx(22.22, abs=0.1)


def test_a_field_charged_split_needs_type_two():
    """A 9 lb split needs a Type II or Universal certificate (40 CFR 82.161)."""
    visit = json.loads((SAMPLES / "low-charge-valve.json").read_text())
    visit["equipment"]["factory_charge"] = 144
    body = create_app().test_client().post("/v1/assessment", json=visit).get_json()
    opening = [step for step in body["next_steps"] if step["code"] == "step.repair-leak-and-weigh-in"]
    assert opening
    assert all({"epa-608-type-2", "epa-608-universal"} & set(step["certificates"]) for step in opening)
    assert "S10" not in str(body["cautions"])
    assert "caution.leak-rate-duty" not in [caution["code"] for caution in body["cautions"]]
