"""Points of the cycle, against the reference library of refrigerant properties."""

import pytest

from service.knowledge.refrigerants import all_refrigerants, find
from service.report.dome import bubble_line, dew_line
from service.report.trace import (
    DISCHARGE,
    INLET,
    LIQUID,
    LOSSLESS,
    PRESSURES,
    SUCTION,
    trace_expected,
    trace_running,
)
from service.results.expected import ExpectedRunning, RangeOf
from service.results.visit import Visit
from service.schemas.documents import load
from tests.coolprop import props_si
from tests.report.conftest import RUNNING

R_32 = find("R-32")


def running_of(**members):
    return load(Visit, {"units": {"temperature": "degC", "pressure": "bar"}, "running": members}).running


FULL = running_of(
    suction_pressure=9.0,
    liquid_pressure=27.0,
    suction_line_temperature=15,
    liquid_line_temperature=38,
    discharge_line_temperature=85,
)


def reference(output, pressure, celsius):
    """Enthalpy or entropy over that of saturated liquid at 0 C, so that no reference state is in it."""
    zero = props_si(output, "T", 273.15, "Q", 0, "R32")
    return props_si(output, "P", pressure, "T", celsius + 273.15, "R32") - zero


ZERO = R_32.properties.saturated.liquid_enthalpy(273.15)


def test_points_lie_where_the_reference_library_puts_them():
    """CoolProp's R-32 (Tillner-Roth and Yokozeki 1997); 400 J/kg: liquid is taken as saturated."""
    points = trace_running(R_32, FULL).points
    for name, pressure, celsius in ((SUCTION, 9e5, 15), (DISCHARGE, 27e5, 85), (LIQUID, 27e5, 38)):
        assert points[name].enthalpy - ZERO == pytest.approx(reference("H", pressure, celsius), abs=400.0)
    assert points[INLET].enthalpy == points[LIQUID].enthalpy
    assert points[INLET].pressure == pytest.approx(9e5)
    assert set(points) == {SUCTION, DISCHARGE, LIQUID, INLET}


def test_without_the_discharge_line_the_compression_ends_at_its_entropy():
    members = {"suction_pressure": 9.0, "liquid_pressure": 27.0, "suction_line_temperature": 15}
    trace = trace_running(R_32, running_of(**members))
    entropy = props_si("S", "P", 9e5, "T", 288.15, "R32")
    end = props_si("H", "P", 27e5, "S", entropy, "R32") - props_si("H", "T", 273.15, "Q", 0, "R32")
    assert trace.points[LOSSLESS].enthalpy - ZERO == pytest.approx(end, abs=500.0)
    assert trace.absent == ("liquid_line_temperature", "discharge_line_temperature")


@pytest.mark.parametrize(
    ("member", "value", "outside"),
    [
        ("suction_line_temperature", -5, "suction"),
        ("liquid_line_temperature", 50, "liquid"),
        ("discharge_line_temperature", 30, "discharge"),
    ],
)
def test_a_reading_of_another_state_is_told_and_not_drawn(member, value, outside):
    members = {
        "suction_pressure": 9.0,
        "liquid_pressure": 27.0,
        "suction_line_temperature": 15,
        "liquid_line_temperature": 38,
        "discharge_line_temperature": 85,
        member: value,
    }
    trace = trace_running(R_32, running_of(**members))
    assert trace.outside == (outside,)
    assert outside not in trace.points
    assert LOSSLESS not in trace.points or outside == "liquid"


def test_the_discharge_pressure_is_taken_before_the_liquid_pressure():
    members = {"liquid_pressure": 26.0, "discharge_pressure": 27.0, "discharge_line_temperature": 85}
    trace = trace_running(R_32, running_of(**members))
    assert trace.points[DISCHARGE].pressure == pytest.approx(27e5)
    assert trace.high == pytest.approx(27e5)
    assert trace.low is None


@pytest.mark.parametrize("suction", [9.0, 22.0])
def test_no_cycle_where_suction_is_not_below_the_high_side(suction):
    """Pressures that no compressor made of each other: it pumps nothing, or a heat pump runs the other way."""
    members = {"suction_pressure": suction, "liquid_pressure": 9.0, "suction_line_temperature": 66}
    trace = trace_running(R_32, running_of(**members))
    assert (trace.points, trace.low, trace.high, trace.outside) == ({}, None, None, (PRESSURES,))


def test_no_lossless_end_beyond_the_tables():
    beyond = {"suction_pressure": 1.0, "liquid_pressure": 57.0, "suction_line_temperature": 40}
    assert LOSSLESS not in trace_running(R_32, running_of(**beyond)).points


def test_nothing_read_gives_nothing_but_what_is_missing():
    trace = trace_running(R_32, running_of())
    assert (trace.points, trace.low, trace.high) == ({}, None, None)
    assert len(trace.absent) == 5


def test_the_expected_cycle_is_that_of_the_likeliest_readings():
    def at(value, kind):
        return RangeOf(value - 1.0, value, value + 1.0, kind)

    expected = ExpectedRunning(
        suction_pressure=at(9e5, "pressure"),
        liquid_pressure=at(27e5, "pressure"),
        suction_line_temperature=at(288.15, "temperature"),
        liquid_line_temperature=at(311.15, "temperature"),
        discharge_line_temperature=at(358.15, "temperature"),
    )
    assert trace_expected(R_32, expected).points.keys() == trace_running(R_32, FULL).points.keys()
    assert trace_expected(R_32, ExpectedRunning()).points == {}


def test_the_dome_follows_the_reference_library_up_to_its_top():
    enthalpies, pressures = bubble_line(R_32, 3e5)
    middle = len(pressures) // 2
    zero = props_si("H", "T", 273.15, "Q", 0, "R32")
    liquid = props_si("H", "P", pressures[middle], "Q", 0, "R32") - zero
    assert enthalpies[middle] - ZERO == pytest.approx(liquid, abs=200.0)
    enthalpies, pressures = dew_line(R_32, 3e5)
    vapour = props_si("H", "P", pressures[middle], "Q", 1, "R32") - zero
    assert enthalpies[middle] - ZERO == pytest.approx(vapour, abs=200.0)
    assert pressures[0] == pytest.approx(3e5)
    assert pressures[-1] < R_32.critical_pressure


def test_the_dome_of_every_refrigerant_can_be_drawn_to_the_ends_of_its_tables():
    for refrigerant in all_refrigerants():
        for line in (bubble_line, dew_line):
            _, pressures = line(refrigerant, 0.0)
            assert pressures[0] == refrigerant.saturation.lowest_pressure
            assert pressures[-1] == refrigerant.saturation.highest_pressure


def test_the_scenario_is_what_the_other_tests_take_it_for():
    assert trace_running(find("R-410A"), load(Visit, {"running": RUNNING}).running).absent == ()
