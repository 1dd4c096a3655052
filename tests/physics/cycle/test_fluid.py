"""The property series against the reference library they were fitted to, at states between the fitted points."""

import numpy as np
import pytest
from CoolProp.CoolProp import PT_INPUTS, QT_INPUTS, AbstractState, PropsSI, iphase_gas

from service.workshop.build.population_fluids import FLUIDS, fit_refrigerant
from tests.physics.cycle.systems import REFRIGERANTS, fluid


def _states(designation: str, count: int = 60):
    """Saturation temperatures and superheats at which the library's own solver finds a state."""
    rng = np.random.default_rng(3)
    state = AbstractState("HEOS", FLUIDS[designation])
    for _ in range(count):
        temperature = float(rng.uniform(250.0, fluid(designation).highest - 1.0))
        superheat = float(rng.uniform(0.5, 60.0 if temperature > 300.0 else 35.0))
        state.unspecify_phase()
        try:
            state.update(QT_INPUTS, 0, temperature)
            bubble = state.p(), state.hmass()
            state.update(QT_INPUTS, 1, temperature)
        except ValueError:  # isolated gaps of the library's mixture solver
            continue
        yield state, temperature, superheat, bubble


@pytest.mark.parametrize("designation", REFRIGERANTS)
def test_saturation_agrees_with_the_library(designation: str) -> None:
    # Source: CoolProp 8 equations of state; tolerances are the fit's own, 100 times under an instrument's.
    fit, seen = fluid(designation), 0
    for state, temperature, _, (bubble, liquid) in _states(designation):
        seen += 1
        at = np.array([temperature])
        assert fit.bubble_pressure(at)[0] == pytest.approx(bubble, rel=2e-4)
        assert fit.dew_pressure(at)[0] == pytest.approx(state.p(), rel=2e-4)
        assert fit.dew_temperature(np.array([state.p()]))[0] == pytest.approx(temperature, abs=0.01)
        assert fit.bubble_temperature(np.array([bubble]))[0] == pytest.approx(temperature, abs=0.01)
        assert fit.at_temperature("liquid_enthalpy", at)[0] == pytest.approx(liquid, abs=60.0)
        assert fit.liquid_temperature(np.array([liquid]))[0] == pytest.approx(temperature, abs=0.05)
        assert fit.vapour_density(at, np.zeros(1))[0] == pytest.approx(state.rhomass(), rel=2.5e-3)
    assert seen > 40


@pytest.mark.parametrize("designation", REFRIGERANTS)
def test_superheated_gas_agrees_with_the_library(designation: str) -> None:
    fit, seen = fluid(designation), 0
    for state, temperature, superheat, _ in _states(designation):
        pressure, saturated = state.p(), state.hmass()
        state.specify_phase(iphase_gas)
        state.update(PT_INPUTS, pressure, temperature + superheat)
        at, above = np.array([temperature]), np.array([state.hmass() - saturated])
        assert fit.superheat(at, above)[0] == pytest.approx(superheat, abs=0.15)
        assert fit.vapour_density(at, above)[0] == pytest.approx(state.rhomass(), rel=3e-3)
        entropy = fit.vapour_entropy(at, above)
        assert entropy[0] == pytest.approx(state.smass(), abs=0.3)
        assert fit.enthalpy_above_dew(at, entropy)[0] == pytest.approx(above[0], abs=60.0)
        seen += 1
    assert seen > 40


def test_glide_is_kept_between_bubble_and_dew() -> None:
    # Source: CoolProp 8; R-407C glides about 6 K at 5 degC dew, pure R-32 not at all.
    dew = np.array([278.15])
    blend, pure = fluid("R-407C"), fluid("R-32")
    assert 5.0 < (dew - blend.bubble_temperature(blend.dew_pressure(dew)))[0] < 7.0
    assert abs(dew - pure.bubble_temperature(pure.dew_pressure(dew)))[0] < 0.01


def test_wet_gas_continues_without_a_jump() -> None:
    fit, dew = fluid("R-410A"), np.array([280.0])
    for above in (-50.0, 50.0):
        assert fit.vapour_density(dew, np.array([above]))[0] == pytest.approx(
            fit.vapour_density(dew, np.zeros(1))[0], rel=1e-3
        )
    assert fit.superheat(dew, np.array([-5e3]))[0] == 0.0
    # At half the latent heat below dew the volume is about half: density doubles.
    half = -0.5 * fit.latent(dew)
    assert fit.vapour_density(dew, half)[0] == pytest.approx(
        2.0 * fit.vapour_density(dew, np.zeros(1))[0], rel=1e-6
    )


def test_any_fluid_of_the_library_can_be_fitted() -> None:
    # Propane stands outside the shipped groups; its range ends below its critical temperature of 369.8 K.
    fit = fit_refrigerant("R-290", "Propane")
    assert 360.0 < fit.highest < 369.0
    assert fit.bubble_pressure(np.array([300.0]))[0] == pytest.approx(
        PropsSI("P", "T", 300.0, "Q", 0, "Propane"), rel=1e-4
    )
