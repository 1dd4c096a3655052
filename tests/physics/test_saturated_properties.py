"""Saturated liquid and vapour against the property library and against handbook heats of evaporation."""

import numpy as np
import pytest
from CoolProp import CoolProp

from service.knowledge.refrigerants import all_refrigerants, find
from service.results.out_of_range import OutOfRange
from service.workshop.build.equilibrium import LIQUID, VAPOUR
from service.workshop.build.tables import model_of

REFRIGERANTS = [pytest.param(item, id=item.designation) for item in all_refrigerants()]


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
def test_liquid_agrees_with_the_library(refrigerant):
    """Enthalpy to 0.1 kJ/kg, density to 0.1 percent: ten times better than field readings can use."""
    state, saturated = model_of(refrigerant.row).state(), refrigerant.properties.saturated
    state.update(CoolProp.QT_INPUTS, LIQUID, 273.15)
    enthalpy, entropy = state.hmass() - 200e3, state.smass() - 1e3
    for temperature in np.linspace(refrigerant.saturation.lowest_temperature, 298.0, 11):
        at = float(temperature)
        state.update(CoolProp.QT_INPUTS, LIQUID, at)
        assert saturated.liquid_density(at) == pytest.approx(state.rhomass(), rel=1e-3)
        assert saturated.liquid_enthalpy(at) == pytest.approx(state.hmass() - enthalpy, abs=100.0)
        assert saturated.liquid_entropy(at) == pytest.approx(state.smass() - entropy, abs=0.4)


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
def test_vapour_agrees_with_the_library(refrigerant):
    state, properties = model_of(refrigerant.row).state(), refrigerant.properties
    saturated = properties.saturated
    state.update(CoolProp.QT_INPUTS, LIQUID, 273.15)
    enthalpy, entropy = state.hmass() - 200e3, state.smass() - 1e3
    for temperature in np.linspace(refrigerant.saturation.lowest_temperature, 298.0, 11):
        state.update(CoolProp.QT_INPUTS, VAPOUR, float(temperature))
        at = refrigerant.saturation.dew_pressure(float(temperature))
        assert saturated.vapour_density(at) == pytest.approx(state.rhomass(), rel=1e-3)
        assert saturated.vapour_enthalpy(at) == pytest.approx(state.hmass() - enthalpy, abs=100.0)
        assert saturated.vapour_entropy(at) == pytest.approx(state.smass() - entropy, abs=0.4)


@pytest.mark.parametrize("designation", ["R-22", "R-32", "R-134a", "R-290", "R-600a", "R-1234yf"])
def test_specific_heats_of_pure_fluids_agree_with_the_library(designation):
    refrigerant = find(designation)
    state, saturated = model_of(refrigerant.row).state(), refrigerant.properties.saturated
    for temperature in np.linspace(
        refrigerant.saturation.lowest_temperature, refrigerant.saturation.highest_temperature, 23
    ):
        at = float(temperature)
        state.update(CoolProp.QT_INPUTS, LIQUID, at)
        assert saturated.liquid_specific_heat(at) == pytest.approx(state.cpmass(), rel=5e-3)
        pressure = state.p()
        state.update(CoolProp.QT_INPUTS, VAPOUR, at)
        assert saturated.vapour_specific_heat(pressure) == pytest.approx(state.cpmass(), rel=5e-3)


# Heat of evaporation [kJ/kg] in ASHRAE Handbook Fundamentals, thermophysical properties (from memory); printed
# tables of older equations differ by some tenths.
@pytest.mark.parametrize(
    ("designation", "celsius", "heat"),
    [("R-22", 0.0, 205.05), ("R-134a", 0.0, 198.60), ("R-134a", 20.0, 182.28), ("R-32", 0.0, 315.3)],
)
def test_the_heat_of_evaporation_is_the_handbook_s(designation, celsius, heat):
    refrigerant = find(designation)
    saturated, temperature = refrigerant.properties.saturated, celsius + 273.15
    vapour = saturated.vapour_enthalpy(refrigerant.saturation.dew_pressure(temperature))
    assert (vapour - saturated.liquid_enthalpy(temperature)) / 1e3 == pytest.approx(heat, abs=0.5)


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
def test_every_pressure_of_the_range_has_its_liquid_and_vapour(refrigerant):
    curve, saturated = refrigerant.saturation, refrigerant.properties.saturated
    for pressure in (curve.lowest_pressure, curve.highest_pressure):
        assert saturated.liquid_density(curve.bubble_temperature(pressure)) > saturated.vapour_density(pressure)


@pytest.mark.parametrize("value", [1.0, 1e9, float("nan")])
def test_outside_the_range_there_is_no_number(value):
    saturated = find("R-410A").properties.saturated
    with pytest.raises(OutOfRange) as refusal:
        saturated.liquid_enthalpy(value)
    assert refusal.value.quantity == "temperature"
    with pytest.raises(OutOfRange) as refusal:
        saturated.vapour_enthalpy(value)
    assert refusal.value.quantity == "pressure"
