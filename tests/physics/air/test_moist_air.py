"""Moist air against the handbook's tables and two reference libraries."""

from math import isclose

import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from service.physics.atmosphere import pressure_at_elevation
from service.physics.moist_air import (
    MoistAir,
    from_relative_humidity,
    from_wet_bulb,
    saturation_vapour_pressure,
    wet_bulb,
)
from service.results.out_of_range import OutOfRange

PSI = 6894.757293168361
GRAIN = 1.0 / 7000.0
BTU_PER_POUND = 2326.0
CUBIC_FOOT_PER_POUND = 0.3048**3 / 0.45359237
DATUM = 17884.4  # J/kg: dry air at 0 F counts zero in IP units, at 0 C in SI: 1006 x 17.778 K


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8 + 273.15


# ASHRAE Handbook Fundamentals 2017, chapter 1, table 3 (values as asserted in psychrolib's tests), 3e-4 there.
@pytest.mark.parametrize(("fahrenheit", "psia"), [(-4, 0.014974), (41, 0.12656), (77, 0.45973), (212, 14.7094)])
def test_saturation_pressure_of_water_is_the_handbooks(fahrenheit, psia):
    assert isclose(saturation_vapour_pressure(kelvin(fahrenheit)) / PSI, psia, rel_tol=3e-4)


# Same chapter, table 2: saturated air at sea level; 5e-3 on humidity ratio, 1e-2 on enthalpy (perfect gas).
@pytest.mark.parametrize(("fahrenheit", "ratio", "enthalpy"), [(41, 0.005425, 15.699), (77, 0.020173, 40.576)])
def test_saturated_air_is_the_handbooks(fahrenheit, ratio, enthalpy):
    air = from_relative_humidity(kelvin(fahrenheit), 1.0, 101325.0)
    assert isclose(air.humidity_ratio, ratio, rel_tol=5e-3)
    # The IP datum is 0 F for dry air; water counts from 32 F in both.
    assert isclose((air.enthalpy + DATUM) / BTU_PER_POUND, enthalpy, rel_tol=1e-2)


# Same chapter, example 1: 100 F, 65 F wet bulb, sea level.
def test_example_of_the_handbook():
    air = from_wet_bulb(kelvin(100), kelvin(65), 101325.0)
    assert air.relative_humidity == pytest.approx(0.13, abs=0.01)
    assert (air.enthalpy + DATUM) / BTU_PER_POUND == pytest.approx(29.8, abs=0.1)
    assert air.specific_volume / CUBIC_FOOT_PER_POUND == pytest.approx(14.22, rel=0.01)
    assert saturation_vapour_pressure(kelvin(40)) == pytest.approx(air.vapour_pressure, rel=0.04)  # dew point 40 F


# psychrolib test suite (spreadsheet values): 86 F, 77 F wet bulb, 14.175 psia.
def test_humidity_ratio_from_wet_bulb_at_altitude():
    air = from_wet_bulb(kelvin(86), kelvin(77), 14.175 * PSI)
    # 4e-4: the constants of the SI and the IP form of equation 33 are rounded apart.
    assert air.humidity_ratio == pytest.approx(0.0187193288418892, rel=4e-4)
    volume = MoistAir(kelvin(86), 0.02, 14.175 * PSI).specific_volume
    assert volume / CUBIC_FOOT_PER_POUND == pytest.approx(14.7205749002918, rel=3e-4)


# Same chapter, table 1: standard pressure over elevation; 3e-3, as equation 3 itself is that far from its table.
@pytest.mark.parametrize(("feet", "psia"), [(1000, 14.175), (3000, 13.173), (10000, 10.108)])
def test_standard_pressure(feet, psia):
    assert pressure_at_elevation(feet * 0.3048) / PSI == pytest.approx(psia, abs=3e-3)


# Computed with psychrolib 2.5.0 (IP): elevation, dry bulb, wet bulb, grains, enthalpy, volume.
ROWS = [
    (0, 14.696, 80, 67, 78.18, 31.447, 13.8494),
    (0, 14.696, 57, 55.5, 63.15, 23.48, 13.2142),
    (2000, 13.6645, 75, 63, 73.33, 29.464, 14.7407),
    (2000, 13.6645, 95, 75, 108.6, 39.915, 15.4139),
    (7500, 11.1263, 80, 67, 110.83, 36.561, 18.4275),
    (7500, 11.1263, 55, 54, 80.69, 25.711, 17.4552),
]


@pytest.mark.parametrize(("feet", "psia", "dry", "wet", "grains", "enthalpy", "volume"), ROWS)
def test_rows_of_a_reference_library_at_altitude(feet, psia, dry, wet, grains, enthalpy, volume):
    assert pressure_at_elevation(feet * 0.3048) == pytest.approx(psia * PSI, rel=2e-5)
    air = from_wet_bulb(kelvin(dry), kelvin(wet), psia * PSI)
    assert air.humidity_ratio / GRAIN == pytest.approx(grains, abs=0.1)
    assert (air.enthalpy + DATUM) / BTU_PER_POUND == pytest.approx(enthalpy, abs=0.06)
    assert air.specific_volume / CUBIC_FOOT_PER_POUND == pytest.approx(volume, rel=2e-4)


AIR = st.tuples(
    st.floats(min_value=263.0, max_value=325.0), st.floats(min_value=0.02, max_value=1.0), st.floats(60e3, 105e3)
)


@given(AIR)
def test_same_equations_as_psychrolib(state):
    dry_bulb, humidity, pressure = state
    psychrolib.SetUnitSystem(psychrolib.SI)
    air = from_relative_humidity(dry_bulb, humidity, pressure)
    ratio = psychrolib.GetHumRatioFromRelHum(dry_bulb - 273.15, humidity, pressure)
    assert air.humidity_ratio == pytest.approx(ratio, rel=1e-4, abs=1e-7)
    enthalpy = psychrolib.GetMoistAirEnthalpy(dry_bulb - 273.15, ratio)
    assert air.enthalpy == pytest.approx(enthalpy, rel=1e-4, abs=5.0)


@pytest.mark.parametrize("pressure", [101325.0, 84e3])
@pytest.mark.parametrize(("dry", "humidity"), [(10.0, 0.9), (25.0, 0.5), (35.0, 0.4), (45.0, 0.2)])
def test_real_gas_air_of_coolprop_is_near(dry, humidity, pressure):
    """The perfect gas leaves out the enhancement factor, up to 0.7 % of the humidity ratio (ASHRAE RP-1485)."""
    air = from_relative_humidity(dry + 273.15, humidity, pressure)
    given_state = ("T", dry + 273.15, "P", pressure, "R", humidity)
    assert air.humidity_ratio == pytest.approx(HAPropsSI("W", *given_state), rel=0.007)
    assert air.enthalpy == pytest.approx(HAPropsSI("H", *given_state), rel=0.008)
    assert wet_bulb(air) == pytest.approx(HAPropsSI("B", *given_state), abs=0.15)


@given(AIR)
def test_wet_bulb_goes_there_and_back(state):
    air = from_relative_humidity(*state)
    back = from_wet_bulb(air.dry_bulb, wet_bulb(air), air.pressure)
    assert back.humidity_ratio == pytest.approx(air.humidity_ratio, rel=1e-6, abs=1e-9)


@given(AIR)
def test_thinner_air_holds_more_water_at_one_relative_humidity(state):
    dry_bulb, humidity, pressure = state
    here = from_relative_humidity(dry_bulb, humidity, pressure)
    higher = from_relative_humidity(dry_bulb, humidity, pressure * 0.9)
    assert higher.humidity_ratio > here.humidity_ratio
    assert higher.specific_volume > here.specific_volume


def test_wet_bulb_of_air_hotter_than_boiling_water():
    """At 120 C and 5 % humidity the wet bulb lies well below the boiling point; CoolProp's real gas as a guide."""
    air = from_relative_humidity(393.15, 0.05, 101325.0)
    assert wet_bulb(air) == pytest.approx(
        HAPropsSI("B", "T", 393.15, "P", 101325.0, "W", air.humidity_ratio), abs=0.5
    )


def test_what_no_air_can_have_is_refused():
    with pytest.raises(OutOfRange):
        from_wet_bulb(300.0, 301.0, 101325.0)
    with pytest.raises(OutOfRange, match="wet bulb"):
        from_wet_bulb(310.0, 275.0, 101325.0)
    with pytest.raises(OutOfRange, match="vapour pressure"):
        from_relative_humidity(380.0, 1.0, 101325.0)
    with pytest.raises(OutOfRange, match="temperature"):
        saturation_vapour_pressure(100.0)


def test_driest_air_is_the_edge():
    with pytest.raises(OutOfRange) as refused:
        from_wet_bulb(310.0, 275.0, 101325.0)
    assert from_wet_bulb(310.0, refused.value.low + 1e-6, 101325.0).humidity_ratio == pytest.approx(0.0, abs=1e-8)
