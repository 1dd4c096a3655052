"""One evaluation of the cycle at trial values of its four unknowns: every state, and what does not balance.

Unknowns: evaporating dew temperature [K], condensing bubble temperature [K], enthalpy of the gas leaving the
indoor coil above dew [J/kg] and of the liquid leaving the outdoor coil above bubble [J/kg]. The last two are
signed: a flooded coil and incomplete condensation are ordinary values, so a solver never meets an edge.
"""

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle import air
from service.results.record import Record
from service.workshop.cycle import charge, condenser, evaporator, metering
from service.workshop.cycle.compressor import Compression, compress
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.unit import STANDARD_PRESSURE, Operation, State, Unit

FOREIGN_GAS_CONDUCTANCE_LOSS = 0.5
SMALLEST_CONDUCTANCE = 0.2


class System(Record):
    """A batch to solve: the refrigerant, whether a valve meters it, the units and what they run in."""

    fluid: RefrigerantFit
    has_valve: bool
    unit: Unit
    operation: Operation


class _Suction(Record):
    pressure: Array
    enthalpy: Array
    temperature: Array
    coil_enthalpy: Array
    coil_superheat: Array
    density: Array


class _Liquid(Record):
    gauge_pressure: Array
    bubble: Array
    dew: Array
    enthalpy: Array
    saturated_enthalpy: Array
    temperature: Array
    foreign: Array


def evaluate(system: System, unknowns: Array) -> State:
    """Every state of the cycle at trial unknowns (4 x n)."""
    suction = _suction_side(system, unknowns[0], unknowns[2])
    liquid = _liquid_side(system, unknowns[1], unknowns[3])
    design, operation = system.unit.design, system.operation
    flow = system.unit.mass_flow * suction.density / system.unit.suction_density * (1.0 - operation.leakage)
    discharge_pressure = (
        liquid.gauge_pressure + system.unit.condenser_resistance * (flow / system.unit.mass_flow) ** 2
    )
    gas = compress(
        system.fluid,
        design,
        system.unit.displacement,
        operation.leakage,
        suction.pressure,
        suction.enthalpy,
        discharge_pressure,
    )
    return _close(system, unknowns, suction, liquid, gas, discharge_pressure)


def residuals(system: System, state: State) -> Array:
    """What does not balance (4 x n), scaled by design flow, capacity and charge."""
    unit = system.unit
    heat = unit.mass_flow * 1.6e5
    return np.stack(
        [
            (state.meter_flow - state.mass_flow) / unit.mass_flow,
            state.evaporator_error / heat,
            state.condenser_error / heat,
            state.charge / unit.charge - system.operation.charge,
        ]
    )


def _suction_side(system: System, dew: Array, above: Array) -> _Suction:
    fluid, unit = system.fluid, system.unit
    density = fluid.vapour_density(dew, above)
    coil = fluid.at_temperature("vapour_enthalpy", dew) + above
    superheat = fluid.superheat(dew, above)
    # The volume flow hardly changes, so the pressure lost in the line follows the density.
    pressure = fluid.dew_pressure(dew) - unit.suction_resistance * density
    flow = unit.mass_flow * density / unit.suction_density
    surroundings = 0.5 * (system.operation.outdoor + system.operation.return_dry_bulb)
    gain = unit.suction_conductance * (surroundings - dew - superheat) / flow
    enthalpy = coil + gain
    line_dew = fluid.dew_temperature(pressure)
    over = enthalpy - fluid.at_temperature("vapour_enthalpy", line_dew)
    temperature = line_dew + fluid.superheat(line_dew, over)
    return _Suction(pressure, enthalpy, temperature, coil, superheat, density)


def _liquid_side(system: System, bubble: Array, above: Array) -> _Liquid:
    fluid = system.fluid
    pressure = fluid.bubble_pressure(bubble)
    foreign = system.operation.foreign_gas * pressure
    saturated = fluid.at_temperature("liquid_enthalpy", bubble)
    enthalpy = saturated + above
    temperature = np.where(above < 0.0, fluid.liquid_temperature(enthalpy), bubble)
    return _Liquid(
        pressure + foreign, bubble, fluid.dew_temperature(pressure), enthalpy, saturated, temperature, foreign
    )


def _close(
    system: System,
    unknowns: Array,
    suction: _Suction,
    liquid: _Liquid,
    gas: Compression,
    discharge_pressure: Array,
) -> State:
    fluid, unit, operation = system.fluid, system.unit, system.operation
    discharge_dew = fluid.dew_temperature(discharge_pressure)
    over = gas.discharge_enthalpy - fluid.at_temperature("vapour_enthalpy", discharge_dew)
    discharge = discharge_dew + fluid.superheat(discharge_dew, over)
    coil, entering = indoor_coil(system)
    demand, available, cold_charge = _indoor(system, unknowns[0], suction, liquid, gas.mass_flow)
    outdoor, warm_demand, warm_available, warm_charge = _outdoor(system, liquid, gas, discharge)
    meter, drier_outlet = _metered(system, unknowns[0], suction, liquid, gas.mass_flow)
    capacity = gas.mass_flow * (suction.coil_enthalpy - liquid.enthalpy)
    supply, supply_ratio = evaporator.leaving_air(coil, entering, capacity)
    rejected = gas.mass_flow * (gas.discharge_enthalpy - liquid.enthalpy)
    held = (
        cold_charge
        + warm_charge
        + charge.line_charge(
            unit.design, fluid.at_temperature("liquid_density", liquid.temperature), suction.density
        )
    )
    return State(
        unknowns[0],
        unknowns[1],
        suction.pressure,
        liquid.gauge_pressure,
        suction.enthalpy,
        suction.temperature,
        liquid.enthalpy,
        liquid.temperature,
        discharge,
        gas.discharge_enthalpy,
        suction.coil_superheat,
        gas.mass_flow,
        meter,
        gas.power,
        gas.heat,
        gas.mass_flow * (suction.enthalpy - suction.coil_enthalpy),
        capacity,
        available - demand,
        warm_available - warm_demand,
        rejected,
        held,
        supply + unit.design.blower_power / (entering.flow * air.SPECIFIC_HEAT),
        supply_ratio,
        operation.outdoor + rejected / outdoor.air_rate,
        drier_outlet,
        liquid.foreign,
    )


def indoor_coil(system: System) -> tuple[evaporator.Coil, evaporator.CoilAir]:
    """The indoor coil and the air entering it at the present airflow."""
    unit, operation = system.unit, system.operation
    design = unit.design
    speed = operation.indoor_flow * operation.pressure / STANDARD_PRESSURE
    coil = evaporator.Coil(
        unit.transfer_units * speed ** (design.airflow_exponent - 1.0),
        design.resistance_ratio * speed**design.airflow_exponent,
        design.superheat_conductance,
    )
    entering = evaporator.CoilAir(
        operation.return_dry_bulb,
        operation.return_ratio,
        air.enthalpy(operation.return_dry_bulb, operation.return_ratio),
        operation.pressure,
        unit.air_mass_flow * speed,
    )
    return coil, entering


def _indoor(
    system: System, dew: Array, suction: _Suction, liquid: _Liquid, flow: Array
) -> tuple[Array, Array, Array]:
    fluid = system.fluid
    coil, entering = indoor_coil(system)
    bubble = fluid.bubble_temperature(fluid.dew_pressure(dew))
    saturated = fluid.at_temperature("vapour_enthalpy", dew)
    latent = saturated - fluid.at_temperature("liquid_enthalpy", bubble)
    inlet_quality = 1.0 - (saturated - liquid.enthalpy) / latent
    wet_end = np.minimum(suction.coil_enthalpy, saturated)
    outlet_quality = 1.0 - (saturated - wet_end) / latent
    # A blend boils over a band from its inlet quality to its outlet quality; the middle drives the heat flow.
    surface = dew - (dew - bubble) * (1.0 - 0.5 * (inlet_quality + outlet_quality))
    dry = flow * np.maximum(suction.coil_enthalpy - saturated, 0.0)
    share = evaporator.superheat_share(coil, entering, dew, suction.coil_superheat, dry)
    available = (1.0 - share) * evaporator.two_phase_heat(coil, entering, surface)
    held = charge.evaporator_charge(fluid, system.unit.design, dew, inlet_quality, outlet_quality, share)
    return flow * (wet_end - liquid.enthalpy), available, held


def _outdoor(
    system: System, liquid: _Liquid, gas: Compression, discharge: Array
) -> tuple[condenser.Outdoor, Array, Array, Array]:
    fluid, unit, operation = system.fluid, system.unit, system.operation
    speed = operation.outdoor_flow * operation.pressure / STANDARD_PRESSURE
    design = unit.design
    factor = condenser.conductance_factor(speed, design.air_side_share, design.airflow_exponent)
    blanketed = np.maximum(1.0 - FOREIGN_GAS_CONDUCTANCE_LOSS * operation.foreign_gas, SMALLEST_CONDUCTANCE)
    coil = condenser.Outdoor(
        operation.outdoor,
        unit.condenser_air * speed,
        unit.condenser_conductance * factor * operation.outdoor_conductance * blanketed,
        design.desuperheat_conductance,
        design.subcool_conductance,
    )
    vapour = fluid.at_temperature("vapour_enthalpy", liquid.dew)
    wet_start, wet_end = (
        np.minimum(gas.discharge_enthalpy, vapour),
        np.maximum(liquid.enthalpy, liquid.saturated_enthalpy),
    )
    hot = condenser.Hot(
        discharge,
        liquid.dew,
        liquid.bubble,
        liquid.bubble - liquid.temperature,
        gas.mass_flow * np.maximum(gas.discharge_enthalpy - vapour, 0.0),
        gas.mass_flow * np.maximum(liquid.saturated_enthalpy - liquid.enthalpy, 0.0),
    )
    first, last = condenser.zone_shares(coil, hot)
    quality = (wet_end - liquid.saturated_enthalpy) / (vapour - liquid.saturated_enthalpy)
    held = charge.condenser_charge(fluid, design, liquid.bubble, quality, first, last)
    return coil, gas.mass_flow * (wet_start - wet_end), condenser.condensing_heat(coil, hot), held


def _metered(system: System, dew: Array, suction: _Suction, liquid: _Liquid, flow: Array) -> tuple[Array, Array]:
    fluid, unit, operation = system.fluid, system.unit, system.operation
    low = fluid.dew_pressure(dew)
    relative = (flow / unit.mass_flow) ** 2
    thinner = unit.liquid_density / fluid.at_temperature("liquid_density", liquid.temperature)
    blocked = operation.drier_loss + operation.restriction * unit.lift * thinner
    after_drier = liquid.gauge_pressure - relative * blocked
    floor = low + 2.0 * metering.SMALLEST_PRESSURE_STEP
    outlet = np.minimum(liquid.temperature, fluid.bubble_temperature(np.maximum(after_drier, floor)))
    before = np.maximum(after_drier - relative * thinner * unit.liquid_resistance, floor)
    inlet = metering.inlet_state(fluid, before, liquid.enthalpy)
    if system.has_valve:
        per_area = metering.valve_flow(unit, operation, inlet, low, suction.coil_superheat)
    else:
        per_area = operation.orifice_area * metering.orifice_flow(fluid, unit.design, inlet, low)
    return unit.metering * per_area, outlet
