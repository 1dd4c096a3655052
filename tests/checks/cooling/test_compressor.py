"""The compressor: ratio, discharge gas, rating, pump-down, reversing valve."""

import pytest

from service.checks.refrigerant.compressor import check_compressor
from tests.checks.cooling.visits import (
    changed,
    checked,
    finding,
    kelvin,
    liquid_psig,
    spoken,
    states,
    suction_psig,
    valve_unit,
    visit_of,
)
from tests.coolprop import props_si
from tests.physics.air.test_compressor_map import FLOW, POWER, ROWS

POUND_PER_HOUR = 0.45359237 / 3600.0


def rated(suction=45.0, discharge=115.0, superheat=20.0, **parts):
    """R-410A at dew temperatures of the map, with its coefficients."""
    document = {
        "equipment": {
            "refrigerant": "R-410A",
            "compressor": {"rating_coefficients": {"power": list(POWER), "mass_flow": list(FLOW)}},
        },
        "running": {
            "suction_pressure": suction_psig("R-410A", suction),
            "discharge_pressure": suction_psig("R-410A", discharge),
            "suction_line_temperature": suction + superheat,
        },
    }
    return changed(document, **parts)


def compressor(document):
    return spoken(check_compressor(visit_of(document)))


@pytest.mark.parametrize(("suction", "discharge", "flow", "power"), ROWS)
def test_rated_values_are_the_maps(suction, discharge, flow, power):
    """At the map's own superheat of 20 F no density correction is left."""
    computed = compressor(rated(suction, discharge)).computed
    assert computed.rated_power.value == pytest.approx(power, rel=2e-3)
    assert computed.rated_mass_flow.value / POUND_PER_HOUR == pytest.approx(flow, rel=2e-3)
    assert computed.rated_power.uncertainty > 0.0


def test_warmer_suction_gas_carries_less():
    """Dabiri and Rice 1981: three quarters of the change in density, density by CoolProp."""
    twenty, fifty = compressor(rated()).computed, compressor(rated(superheat=50.0)).computed
    pressure = props_si("P", "T", kelvin(45), "Q", 1, "R410A")
    density = [props_si("D", "P", pressure, "T", kelvin(45 + superheat), "R410A") for superheat in (20, 50)]
    share = 1.0 + 0.75 * (density[1] / density[0] - 1.0)
    assert fifty.rated_mass_flow.value / twenty.rated_mass_flow.value == pytest.approx(share, rel=2e-3)


def test_another_rating_superheat_is_taken_from_the_nameplate():
    document = rated(superheat=20.0)
    document["equipment"]["compressor"]["rating_superheat"] = 35
    assert compressor(document).computed.rated_mass_flow.value > compressor(rated()).computed.rated_mass_flow.value
    assert "compressor.rating-superheat" in [item.code for item in compressor(rated()).assumptions]
    assert "compressor.rating-superheat" not in [item.code for item in compressor(document).assumptions]


def test_metric_coefficients():
    """A map in C and kg/h: constant terms tell the unit."""
    document = rated()
    coefficients = {"power": [2500.0] + [0.0] * 9, "mass_flow": [220.0] + [0.0] * 9, "unit_system": "si"}
    document["equipment"]["compressor"]["rating_coefficients"] = coefficients
    computed = compressor(document).computed
    assert computed.rated_power.value == pytest.approx(2500.0)
    assert computed.rated_mass_flow.value == pytest.approx(220.0 / 3600.0, rel=2e-3)
    linear = {"power": [0.0, 100.0] + [0.0] * 8, "unit_system": "si"}
    document["equipment"]["compressor"]["rating_coefficients"] = linear
    assert compressor(document).computed.rated_power.value == pytest.approx(100.0 * (45 - 32) / 1.8, rel=1e-3)
    assert compressor(document).computed.rated_mass_flow is None


@pytest.mark.parametrize(("suction", "discharge"), [(65, 115), (-15, 115), (45, 70), (45, 156)])
def test_off_the_map_nothing_is_computed(suction, discharge):
    assert compressor(rated(suction, discharge)).computed.rated_power is None


def test_a_polynomial_below_zero_is_no_rating():
    document = rated()
    document["equipment"]["compressor"]["rating_coefficients"] = {
        "power": [-1.0] * 10, "mass_flow": [-1.0] * 10
    }  # fmt: skip
    computed = compressor(document).computed
    assert (computed.rated_power, computed.rated_mass_flow) == (None, None)


@pytest.mark.parametrize(
    ("share", "low", "high"), [(1.0, "pass", "pass"), (0.84, "review", "pass"), (1.16, "pass", "review")]
)
def test_power_against_the_rating(share, low, high):
    power = compressor(rated()).computed.rated_power.value
    found = compressor(rated(electrical={"currents": {"compressor_watts": power * share}}))
    assert found.computed.power_ratio.value == pytest.approx(share, rel=1e-6)
    assert (states(found)["compressor.power-low"], states(found)["compressor.power-high"]) == (low, high)


def test_overall_isentropic_efficiency_against_the_property_library():
    found = compressor(rated(electrical={"currents": {"compressor_watts": 2490}}))
    low, high = (props_si("P", "T", kelvin(t), "Q", 1, "R410A") for t in (45, 115))
    enthalpy = props_si("H", "P", low, "T", kelvin(65), "R410A")
    entropy = props_si("S", "P", low, "T", kelvin(65), "R410A")
    rise = props_si("H", "P", high, "S", entropy, "R410A") - enthalpy
    expected = 471.34 * POUND_PER_HOUR * rise / 2490
    assert found.computed.isentropic_efficiency.value == pytest.approx(expected, rel=5e-3)
    assert states(found)["compressor.efficiency-low"] == "pass"


def test_efficiency_from_the_discharge_temperature_where_there_is_no_rating():
    document = rated(running={"discharge_line_temperature": 175})
    del document["equipment"]["compressor"]
    found = compressor(document)
    low, high = (props_si("P", "T", kelvin(t), "Q", 1, "R410A") for t in (45, 115))
    enthalpy = props_si("H", "P", low, "T", kelvin(65), "R410A")
    entropy = props_si("S", "P", low, "T", kelvin(65), "R410A")
    rise = props_si("H", "P", high, "S", entropy, "R410A") - enthalpy
    actual = props_si("H", "P", high, "T", kelvin(175), "R410A") - enthalpy
    assert found.computed.isentropic_efficiency.value == pytest.approx(rise / actual, rel=1e-2)
    cold = changed(document, running={"discharge_line_temperature": 118})
    assert compressor(cold).computed.isentropic_efficiency is None
    outside = changed(document, running={"discharge_line_temperature": 450})
    assert compressor(outside).computed.isentropic_efficiency is None


def test_volumetric_efficiency_needs_the_displacement():
    document = rated()
    assert compressor(document).computed.volumetric_efficiency is None
    document["equipment"]["compressor"] |= {"displacement": 0.0011, "motor_speed": 3500}
    density = props_si("D", "P", props_si("P", "T", kelvin(45), "Q", 1, "R410A"), "T", kelvin(65), "R410A")
    swept = 0.0011 * 0.3048**3 * 3500 / 60
    expected = 471.34 * POUND_PER_HOUR / (density * swept)
    assert compressor(document).computed.volumetric_efficiency.value == pytest.approx(expected, rel=5e-3)
    document["equipment"]["compressor"].pop("motor_speed")
    assert compressor(document).computed.volumetric_efficiency is None


def by_air(airflow, **parts):
    """The map's compressor at 45/115 F with a coil that cools air from 80/67 F to 57/55.5 F."""
    return changed(
        rated(running={"liquid_pressure": 400, "liquid_line_temperature": 100}),
        air={
            "return_dry_bulb": 80,
            "return_wet_bulb": 67,
            "supply_dry_bulb": 57,
            "supply_wet_bulb": 55.5,
            "airflow": airflow,
        },
        **parts,
    )


@pytest.mark.parametrize(("airflow", "state"), [(1150, "pass"), (700, "review")])
def test_flow_by_the_air_side(airflow, state):
    """Capacity of the worked example (43,022 Btu/h at 1200 cfm) over CoolProp's enthalpies, against the map."""
    found = compressor(by_air(airflow))
    suction = props_si("H", "P", props_si("P", "T", kelvin(45), "Q", 1, "R410A"), "T", kelvin(65), "R410A")
    liquid = props_si("H", "T", kelvin(100), "Q", 0, "R410A")
    flow = 43022 * airflow / 1200 * 1055.056 / 3600 / (suction - liquid)
    expected = flow / (471.34 * POUND_PER_HOUR)
    assert found.computed.mass_flow_ratio.value == pytest.approx(expected, rel=0.015)
    assert states(found)["compressor.flow-low"] == state


def test_flow_by_the_air_side_is_not_judged_at_part_load():
    document = by_air(700)
    document["equipment"]["compressor"]["drive"] = "inverter"
    assert states(compressor(document))["compressor.flow-low"] == "undecided"


def test_air_that_is_not_cooled_tells_no_flow():
    warm = by_air(1150)
    warm["air"] |= {"supply_dry_bulb": 80, "supply_wet_bulb": 68}
    assert compressor(warm).computed.mass_flow_ratio is None


def test_volumetric_efficiency_takes_the_measured_flow_where_there_is_one():
    document = by_air(900)
    document["equipment"]["compressor"] |= {"displacement": 0.0011, "motor_speed": 3500}
    plain = rated()
    plain["equipment"]["compressor"] |= {"displacement": 0.0011, "motor_speed": 3500}
    ratio = compressor(document).computed.mass_flow_ratio.value
    measured, nominal = compressor(document).computed, compressor(plain).computed
    share = measured.volumetric_efficiency.value / nominal.volumetric_efficiency.value
    assert share == pytest.approx(ratio, rel=1e-6)


def test_suction_gas_too_hot_for_the_tables():
    document = by_air(900, running={"suction_line_temperature": 300})
    computed = compressor(document).computed
    assert (computed.mass_flow_ratio, computed.rated_mass_flow) == (None, None)


def test_a_high_ratio_is_ordinary_in_heating():
    document = {"equipment": {"mode": "heating"}, "running": {"suction_pressure": 50, "liquid_pressure": 400}}
    assert "compressor.ratio-high" not in states(checked(document))


def test_wet_suction_gas_gives_no_flow():
    computed = compressor(rated(superheat=-3.0)).computed
    assert (computed.rated_mass_flow, computed.isentropic_efficiency) == (None, None)


def test_no_lift_no_efficiency():
    document = rated(discharge=44.0, running={"discharge_line_temperature": 70})
    assert compressor(document).computed.isentropic_efficiency is None


def test_compression_ratio_is_of_absolute_pressures():
    document = {"running": {"suction_pressure": 118, "liquid_pressure": 350}}
    found = checked(document)
    assert found.computed.running.compression_ratio.value == pytest.approx(
        (350 + 14.696) / (118 + 14.696), rel=1e-5
    )
    assert "compressor.liquid-for-discharge" in [item.code for item in found.assumptions]
    at_discharge = checked(changed(document, running={"discharge_pressure": 380}))
    assert at_discharge.computed.running.compression_ratio.value == pytest.approx(394.696 / 132.696, rel=1e-5)


# Investigate above 4: common practice, from memory.
@pytest.mark.parametrize(("high", "state"), [(4 * 132.696 - 14.7, "pass"), (4 * 132.696 - 14.6, "review")])
def test_ratio_limit(high, state):
    document = {"running": {"suction_pressure": 118, "liquid_pressure": high}}
    assert states(checked(document))["compressor.ratio-high"] == state


# 225 F at the discharge line: compressor application practice, from memory.
@pytest.mark.parametrize(("temperature", "state"), [(225, "pass"), (225.1, "fail")])
def test_discharge_temperature(temperature, state):
    document = {"running": {"discharge_line_temperature": temperature}}
    assert states(checked(document)) == {"compressor.discharge-temperature-high": state}


@pytest.mark.parametrize(("superheat", "state"), [(15.1, "pass"), (14.0, "review"), (-5.0, None)])
def test_discharge_superheat(superheat, state):
    line = 115.2 + superheat
    found = checked(changed(valve_unit(), running={"discharge_line_temperature": line}))
    assert states(found).get("compressor.discharge-superheat-low") == state


@pytest.mark.parametrize(
    ("psig", "type_", "expected"),
    [
        (5, "reciprocating", {"compressor.pump-down-pressure": "pass"}),
        (25, "reciprocating", {"compressor.pump-down-pressure": "review"}),
        (-3, "reciprocating", {"compressor.pump-down-pressure": "pass"}),
        (-3, "scroll", {"compressor.pump-down-pressure": "pass", "compressor.scroll-in-vacuum": "fail"}),
    ],
)
def test_pump_down(psig, type_, expected):
    document = {
        "equipment": {"compressor": {"type": type_}}, "running": {"pump_down_suction_pressure": psig}
    }  # fmt: skip
    assert states(compressor(document)) == expected


@pytest.mark.parametrize(("holds", "state"), [(True, "pass"), (False, "fail")])
def test_pump_down_holds(holds, state):
    document = {"running": {"pump_down_holds": holds}}
    assert states(compressor(document)) == {"compressor.pump-down-holds": state}


# 3 F across the reversing valve: common practice, no source.
@pytest.mark.parametrize(("leaving", "state"), [(53, "pass"), (53.1, "fail")])
def test_reversing_valve(leaving, state):
    document = {
        "running": {
            "reversing_valve_suction_in_temperature": 50,
            "reversing_valve_suction_out_temperature": leaving,
        }
    }
    assert states(compressor(document)) == {"compressor.reversing-valve-leak": state}


def weak():
    return changed(
        valve_unit(),
        running={"suction_pressure": suction_psig("R-410A", 60), "liquid_pressure": liquid_psig("R-410A", 95)},
    )


def test_high_suction_with_a_small_ratio():
    found = compressor(weak())
    assert states(found)["compressor.weak-pumping"] == "review"
    slow = changed(weak(), equipment={"compressor": {"drive": "inverter"}})
    assert "compressor.weak-pumping" not in states(compressor(slow))
    heating = changed(weak(), equipment={"mode": "heating"})
    assert "compressor.weak-pumping" not in states(compressor(heating))


@pytest.mark.parametrize(
    ("suction", "liquid", "state"), [(50, 55, "undecided"), (58, 100, "pass"), (45, 110, "pass")]
)
def test_only_a_ratio_of_some_size_shows_that_gas_is_moved(suction, liquid, state):
    """At rest both sides stand at one pressure, cold or warm: that must never pass for pumping."""
    running = {
        "suction_pressure": suction_psig("R-410A", suction),
        "liquid_pressure": liquid_psig("R-410A", liquid),
    }
    found = compressor({"equipment": {"refrigerant": "R-410A"}, "running": running})
    assert states(found)["compressor.weak-pumping"] == state


def test_no_pressure_difference():
    document = {"running": {"suction_pressure": 150, "liquid_pressure": 155}}
    item = finding(compressor(document), "compressor.no-pressure-difference")
    assert item.state == "review"


def test_missing_readings_are_named():
    document = rated(
        running={"discharge_pressure": None, "liquid_pressure": 360, "discharge_line_temperature": 160}
    )
    pointers = [item.pointer for item in compressor(document).missing]
    assert "/electrical/currents/compressor_watts" in pointers
    assert "/running/discharge_pressure" in pointers
