"""What a visit asks of the cycle model, and what of its answer is passed on."""

import pytest

from service.checks.refrigerant.cooling import check_cooling
from service.reasoning.causes import is_weighed
from service.reasoning.cycle_pointers import weighed_pointers
from service.reasoning.cycle_question import cycle_inputs
from service.reasoning.cycle_read import wet_bulb_of_humidity
from service.reasoning.cycle_weighing import ask_cycle, weigh
from service.reasoning.expected import expected_computed
from service.reasoning.flammable import is_flammable
from service.results.visit import Visit
from service.schemas.documents import load

SOUND = {
    "equipment": {
        "refrigerant": "R-410A",
        "metering_device": "thermostatic_expansion_valve",
        "rated_capacity": 36000,
        "nominal_voltage": "208_230",
        "compressor": {"rated_load_amps": 16.7},
    },
    "running": {
        "minutes_running": 20,
        "suction_pressure": 130,
        "liquid_pressure": 381,
        "suction_line_temperature": 56,
        "liquid_line_temperature": 103,
        "drier_inlet_temperature": 103,
        "drier_outlet_temperature": 102.5,
    },
    "air": {"outdoor_dry_bulb": 95, "return_dry_bulb": 80, "return_wet_bulb": 67, "supply_dry_bulb": 61.5},
    "standing": {"pressure": 296, "ambient_temperature": 95, "minutes_off": 60},
    "electrical": {"currents": {"compressor_amps": 12.4}, "supply": {"running_volts": 230}},
}


def asked(**changes):
    document = {part: {**SOUND.get(part, {}), **content} for part, content in changes.items()}
    return cycle_inputs(load(Visit, {**SOUND, **document}))


def test_readings_become_temperatures_and_ratios():
    inputs = asked()
    assert inputs is not None
    readings = inputs.readings
    # Saturation of R-410A at 130 and 381 psig, from the shipped tables held against CoolProp elsewhere.
    assert readings.suction_saturation_temperature == pytest.approx(280.4, abs=0.3)
    assert readings.liquid_saturation_temperature == pytest.approx(318.1, abs=0.3)
    assert readings.drier_temperature_drop == pytest.approx(0.5 * 5 / 9)
    assert readings.compressor_amps_ratio == pytest.approx(12.4 / 16.7)
    assert readings.voltage_ratio == pytest.approx(1.0)
    assert readings.standing_saturation_excess == pytest.approx(0.0, abs=0.5)


@pytest.mark.parametrize(
    "changes",
    [
        {"equipment": {"mode": "heating"}},
        {"equipment": {"compressor": {"drive": "inverter"}}},
        {"equipment": {"metering_location": "outdoor"}},
        {"running": {"unloaded": True}},
        {"running": {"stage": 1}, "equipment": {"stages": 2}},
    ],
)
def test_it_is_not_asked_of_what_it_does_not_know(changes):
    assert asked(**changes) is None


def test_one_stage_of_one_is_full_stage():
    assert asked(running={"stage": 1}) is not None


@pytest.mark.parametrize("part", ["refrigerant", "air"])
def test_it_needs_refrigerant_and_both_air_temperatures(part):
    document = {name: dict(content) for name, content in SOUND.items()}
    if part == "air":
        del document["air"]["outdoor_dry_bulb"]
    else:
        del document["equipment"]["refrigerant"]
    visit = load(Visit, document)
    assert ask_cycle(visit) == (None, None)
    assert weigh(None, None) is None
    assert expected_computed(visit, None, None).expected.running.suction_pressure is None


def test_an_unknown_refrigerant_asks_nothing_and_is_not_called_flammable():
    visit = load(Visit, {**SOUND, "equipment": {"refrigerant": "R-999"}})
    assert cycle_inputs(visit) is None
    assert not is_flammable(visit)


def test_humidity_stands_for_the_wet_bulb():
    air = {"return_wet_bulb": 67, "return_relative_humidity": 51.1, "supply_relative_humidity": 90}
    by_bulb = asked(air=air)
    document = {**SOUND, "air": {**SOUND["air"], **air}}
    del document["air"]["return_wet_bulb"]
    by_humidity = cycle_inputs(load(Visit, document))
    assert by_bulb is not None
    assert by_humidity is not None
    # ASHRAE: 80 F and 67 F wet bulb are 51.1 % relative humidity (psychrolib 2.5.0).
    assert by_humidity.conditions.return_wet_bulb == pytest.approx(by_bulb.conditions.return_wet_bulb, abs=0.1)
    assert by_humidity.readings.supply_wet_bulb is not None


def test_air_that_cannot_be_has_no_wet_bulb():
    assert wet_bulb_of_humidity(420.0, 1.0, 60e3) is None


def test_stated_accuracies_pass_through_the_slope_of_saturation():
    inputs = asked(instruments={"temperature_accuracy": 0.9, "pressure_accuracy": 2.0})
    assert inputs is not None
    assert inputs.accuracies["liquid_line_temperature"] == pytest.approx(0.5)
    # About 0.33 K per psi near 7 C and 0.13 K per psi near 45 C for R-410A, from the tables.
    assert inputs.accuracies["suction_saturation_temperature"] == pytest.approx(0.46, abs=0.1)
    assert inputs.accuracies["liquid_saturation_temperature"] < inputs.accuracies["suction_saturation_temperature"]


def test_a_standing_pressure_too_soon_after_running_is_left_out():
    inputs = asked(standing={"minutes_off": 3})
    assert inputs is not None
    assert inputs.readings.standing_saturation_excess is None
    assert "/standing/pressure" not in weighed_pointers(inputs)


@pytest.mark.parametrize(
    ("pressure", "outdoor", "indoor", "excess"),
    [
        # R-410A has 296 psig at 95 F, 217 psig at 75 F and 252 psig at 84.5 F (CoolProp, through the tables).
        # Between the two, and at the warmer while the colder still draws: a sound unit's, or foreign gas.
        (252, 95, 75, None),
        (294, 95, 75, None),
        # At the colder, no foreign gas can be beside the liquid.
        (217, 95, 75, 0.0),
        (217, 75, 95, 0.0),
        (252, 84.5, 84.5, 0.0),
        # Above the warmer place no liquid of the unit's own can be: 5.6 K is 10 F.
        (296, 85, 75, 5.6),
        (296, 75, 85, 5.6),
        # Indoors not read, its air at 80 F: at the outdoor coil, over it, or drawn below it by the colder house.
        (296, 95, None, 0.0),
        (296, 85, None, 5.6),
        (252, 95, None, None),
        # A house warmer than the day draws nothing below the outdoor temperature.
        (205, 75, None, -1.9),
    ],
)
def test_what_a_standing_pressure_tells_of_foreign_gas(pressure, outdoor, indoor, excess):
    """Physics: at rest the pressure follows the colder coil in the end and lies between both on the way."""
    standing = {"pressure": pressure, "ambient_temperature": outdoor}
    if indoor is not None:
        standing["indoor_temperature"] = indoor
    inputs = asked(standing=standing)
    assert inputs is not None
    assert inputs.readings.standing_saturation_excess == (
        None if excess is None else pytest.approx(excess, abs=0.6)
    )
    assert ("/standing/pressure" in weighed_pointers(inputs)) is (excess is not None)


@pytest.mark.parametrize(
    ("stated", "seer", "told"),
    [(None, 10, "standard"), (None, 15, None), (None, 18, "high"), ("high", 10, "high"), (None, None, None)],
)
def test_the_seasonal_efficiency_tells_the_class_where_nobody_states_it(stated, seer, told):
    """The rows of the limits on condensing over outdoor air (from memory): SEER 10, and 16 and more."""
    said = {"efficiency_class": stated, "seer": seer}
    inputs = asked(equipment={name: value for name, value in said.items() if value is not None})
    assert inputs is not None
    assert inputs.efficiency_class == told


@pytest.mark.parametrize("nameplate", [{"seer": 14}, {"efficiency_class": "standard"}, {}])
def test_condensing_over_outdoor_is_not_counted_beside_the_model_whatever_told_its_limit(nameplate):
    """No reading counts twice: the model has weighed the liquid pressure and the outdoor air."""
    visit = load(Visit, {**SOUND, "equipment": {**SOUND["equipment"], **nameplate}})
    high = next(item for item in check_cooling(visit).findings if item.code == "running.condensing-high")
    assert is_weighed(high, weigh(*ask_cycle(visit)))


def test_a_baseline_needs_its_own_weather():
    base = {"running": SOUND["running"], "air": SOUND["air"], "electrical": SOUND["electrical"]}
    sharpened = cycle_inputs(load(Visit, {**SOUND, "baseline": base}))
    assert sharpened is not None
    assert sharpened.baseline is not None
    without = cycle_inputs(load(Visit, {**SOUND, "baseline": {"running": SOUND["running"]}}))
    assert without is not None
    assert without.baseline is None


def test_pressures_beyond_the_critical_point_are_not_told():
    """Expected ranges near the end of the saturation line leave the pressure out instead of inventing one."""
    document = {**SOUND, "air": {**SOUND["air"], "outdoor_dry_bulb": 118}}
    visit = load(Visit, document)
    expected = expected_computed(visit, *ask_cycle(visit)).expected
    assert expected.running.liquid_pressure is None or expected.running.liquid_pressure.high < 4.95e6


@pytest.mark.parametrize(
    ("equipment", "wanted"),
    [
        ({}, None),
        ({"seer": 14}, "standard"),
        ({"seer": 15}, None),
        ({"seer": 16}, "high"),
        ({"seer": 16, "efficiency_class": "standard"}, "standard"),
    ],
)
def test_the_class_is_stated_or_follows_from_the_nameplate(equipment, wanted):
    inputs = asked(equipment={**SOUND["equipment"], **equipment})
    assert inputs is not None
    assert inputs.efficiency_class == wanted
    # What the class comes from is weighed: a check on it and on weighed readings adds nothing to the model.
    assert {"/equipment/seer", "/equipment/efficiency_class"} <= weighed_pointers(inputs)


@pytest.mark.parametrize(
    "changes",
    [
        # R-410A (CoolProp): 430 psig is 122 F, the liquid gauge's 381 psig is 113 F.
        {"running": {"discharge_pressure": 430}},
        # Nobody converts a unit from R-410A to R-22.
        {"equipment": {"refrigerant": "R-22", "nameplate_refrigerant": "R-410A"}},
    ],
)
def test_a_unit_unlike_any_simulated_one_is_not_asked_about(changes):
    assert asked(**changes) is None
