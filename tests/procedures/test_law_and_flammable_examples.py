"""Worked examples of law, cylinders and flammable charges; each names its source and kind."""

import json
from pathlib import Path

import pytest

from service.app import create_app
from service.knowledge.limits import limit
from service.knowledge.refrigerants import find
from service.physics.cylinder import liquid_limit
from service.physics.room_charge import most_charge
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.words.say import Speaker

POUND = 0.45359237  # kg, exact
WATER = 1000.0  # kg/m3; the water capacity of a cylinder is the mass of water that fills it
SAMPLES = Path(__file__).parents[2] / "samples" / "visits"


def test_flammability_limit_of_r32_by_mass():
    """14.4 % by volume at 23 C and 101.325 kPa, ideal gas, M 52.02 g/mol: 0.308 kg/m3 (ISO 817; from memory)."""
    by_gas_law = 0.144 * 101325.0 * 0.05202 / (8.314462618 * 296.15)
    assert find("R-32").lower_flammability_limit == pytest.approx(by_gas_law, rel=0.01)


@pytest.mark.parametrize(("volume_rule", "kilograms"), [("procedures.small-charge-volume", 1.842)])
def test_us_threshold_below_which_no_room_is_asked_for(volume_rule, kilograms):
    """6 m3 x 0.307 kg/m3 = 1.842 kg, 4.06 lb (IEC 60335-2-40:2018; 1.84 kg in manufacturers' manuals)."""
    lower_limit = find("R-32").lower_flammability_limit
    assert lower_limit is not None
    assert limit(volume_rule).value * lower_limit == pytest.approx(kilograms, rel=0.005)


def test_iec_threshold_of_four_cubic_metres():
    """4 m3 x 0.307 kg/m3 = 1.228 kg (IEC 60335-2-40, from memory)."""
    lower_limit = find("R-32").lower_flammability_limit
    assert lower_limit is not None
    four = limit("procedures.small-charge-volume-highly-flammable").value
    assert four * lower_limit == pytest.approx(1.228, rel=0.005)


@pytest.mark.parametrize(("area", "kilograms"), [(20.0, 1.533), (45.02, 2.30)])
def test_the_printed_room_table(area, kilograms):
    """R-32 at 0.6 m: 1.533 kg in 20 m2; 2.30 kg needs 45.02 m2 (IEC 60335-2-40:2018 GG.2, in manuals)."""
    assert most_charge(0.307, 0.6, area) == pytest.approx(kilograms, abs=1e-3)


def test_three_kilograms_in_a_second_manual():
    """R-32, 0.6 m: 3.0 kg needs 76.6 m2 (IEC 60335-2-40:2018 in a second installation manual)."""
    assert most_charge(0.307, 0.6, 76.6) == pytest.approx(3.0, abs=1e-3)


def test_any_suspected_leak_puts_out_every_ignition_source():
    """IEC 60335-2-40 Annex DD: 25 % of the limit is where the detector alarms, not where the work stops."""
    for language, ignition in (("en", "ignition source"), ("es", "fuentes de ignición")):
        speaker = Speaker(Units(), STANDARD_ATMOSPHERE, language)
        said = speaker.text("cautions", "caution.flammable-refrigerant")
        assert ignition in said
        assert "25%" in said.replace(" %", "%")


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
