"""The solved cycle closes: mass, energy on both coils and the compressor, charge; and agrees with the"""

import numpy as np
import pytest
from CoolProp.CoolProp import PT_INPUTS, AbstractState, iphase_gas, iphase_liquid

from service.physics.cycle import air
from service.workshop.build.population_fluids import FLUIDS
from service.workshop.cycle.balance import System, evaluate, indoor_coil, residuals
from service.workshop.cycle.unit import rated_operation, take
from tests.physics.cycle.systems import REFRIGERANTS, solved, units, weather, with_fault

CASES = [(name, valve) for name in REFRIGERANTS for valve in (False, True)]


@pytest.mark.parametrize(("designation", "has_valve"), CASES)
def test_sizing_solves_the_design_state_exactly(designation: str, has_valve: bool) -> None:
    refrigerant, unit, start = units(designation, has_valve)
    system = System(refrigerant, has_valve, unit, rated_operation(start.shape[1]))
    state = evaluate(system, start)
    assert np.abs(residuals(system, state)).max() < 1e-9
    # One nominal ton by construction (AHRI: 12,000 Btu/h).
    assert state.capacity == pytest.approx(3516.85, rel=1e-9)


@pytest.mark.parametrize(("designation", "has_valve"), CASES)
def test_energy_closes_on_every_part(designation: str, has_valve: bool) -> None:
    operation = with_fault(weather(303.15), "undercharge", 0.5, has_valve)
    system, solution = solved(designation, has_valve, operation)
    assert solution.converged.mean() > 0.97
    keep = solution.converged
    state = take(solution.state, keep)
    part = System(system.fluid, has_valve, take(system.unit, keep), take(operation, keep))
    # What the compressor adds to the gas is its power less the shell loss and what leaked gas gives away.
    kept = 1.0 - part.unit.design.shell_loss
    assert state.compressor_heat == pytest.approx(state.power * kept, rel=2e-3)
    # Condenser heat from the air side equals evaporator heat, line gain and compressor heat.
    air_rate = part.unit.condenser_air
    rejected = air_rate * (state.condenser_leaving - operation.outdoor[keep])
    assert rejected == pytest.approx(state.capacity + state.line_gain + state.compressor_heat, rel=1e-6)
    # Indoor heat from the air side: enthalpy in less out, the blower's heat taken off again.
    _, entering = indoor_coil(part)
    supply = state.supply_dry_bulb - part.unit.design.blower_power / (entering.flow * air.SPECIFIC_HEAT)
    cooled = entering.flow * (entering.enthalpy - air.enthalpy(supply, state.supply_ratio))
    assert cooled == pytest.approx(state.capacity, rel=0.01)
    assert state.charge == pytest.approx(part.unit.charge * operation.charge[keep], rel=1e-6)
    assert state.meter_flow == pytest.approx(state.mass_flow, rel=1e-6)


@pytest.mark.parametrize("designation", REFRIGERANTS)
def test_capacity_rebuilt_with_the_library(designation: str) -> None:
    # Source: CoolProp 8. Saturated liquid stands for subcooled liquid in the model; it costs up to half a percent.
    _, solution = solved(designation, True, weather(308.15))
    state = solution.state
    gas = AbstractState("HEOS", FLUIDS[designation])
    liquid = AbstractState("HEOS", FLUIDS[designation])
    gas.specify_phase(iphase_gas)
    liquid.specify_phase(iphase_liquid)
    fit = solved(designation, True, weather(308.15))[0].fluid
    for at in range(12):
        low = float(fit.dew_pressure(state.evaporating[at : at + 1])[0])
        gas.update(PT_INPUTS, low, float(state.evaporating[at] + state.coil_superheat[at]))
        liquid.update(PT_INPUTS, float(state.liquid_pressure[at]), float(state.liquid_temperature[at]))
        rebuilt = state.mass_flow[at] * (gas.hmass() - liquid.hmass())
        assert state.capacity[at] == pytest.approx(rebuilt, rel=7e-3)


@pytest.mark.parametrize("has_valve", [False, True])
def test_sound_units_look_like_the_trade_expects(has_valve: bool) -> None:
    # Common practice, no source: split 16-22 degF, discharge 140-210 degF, 1.5-3.3 lb of charge a ton at rating A.
    system, solution = solved("R-410A", has_valve, weather(308.15))
    state = solution.state
    split = (system.operation.return_dry_bulb - state.supply_dry_bulb) * 1.8
    assert 16.0 < np.percentile(split, 5) < np.percentile(split, 95) < 22.0
    assert np.percentile(state.discharge_temperature, 5) > 333.0
    assert np.percentile(state.discharge_temperature, 95) < 372.0
    assert 0.68 < np.percentile(system.unit.charge, 5) < np.percentile(system.unit.charge, 95) < 1.5


def test_a_sample_without_a_steady_state_is_marked() -> None:
    # Nearly no indoor air: the coil freezes, and no continuation reaches a state within the fitted range.
    operation = weather(308.15)
    starved = with_fault(with_fault(operation, "undercharge", 3.0, True), "low_indoor_airflow", 2.0, True)
    assert not solved("R-410A", True, starved)[1].converged.all()
