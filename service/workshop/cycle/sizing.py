"""Back out a unit's parameters from what it does at rating A: sound units are realistic by construction."""

from collections.abc import Callable

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle import air
from service.physics.cycle.readings import NOMINAL_AIRFLOW, NOMINAL_CAPACITY
from service.results.record import replace
from service.workshop.cycle.balance import System, evaluate
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.unit import (
    RATED_OUTDOOR,
    RATED_RETURN,
    STANDARD_PRESSURE,
    Design,
    Unit,
    rated_operation,
)

BISECTIONS = 48


def design_unknowns(fluid: RefrigerantFit, design: Design) -> Array:
    """The four unknowns of the cycle (4 x n) at the design state."""
    middle = design.evaporating
    low_glide = middle - fluid.bubble_temperature(fluid.dew_pressure(middle))
    # The coil boils from a quality of about a fifth to dew: its middle stands 0.4 of the band below dew.
    dew = middle + 0.4 * low_glide
    warm = RATED_OUTDOOR + design.condensing_over_outdoor
    high_glide = fluid.dew_temperature(fluid.bubble_pressure(warm)) - warm
    bubble = warm - 0.5 * high_glide
    above = _enthalpy_of_superheat(fluid, dew, design.superheat)
    below = fluid.at_temperature("liquid_enthalpy", bubble - design.subcooling) - fluid.at_temperature(
        "liquid_enthalpy", bubble
    )
    return np.stack([dew, bubble, above, below])


def size(fluid: RefrigerantFit, has_valve: bool, design: Design) -> tuple[Unit, Array]:
    """Size units to their designs.

    Returns the units and the unknowns (4 x n) of the design state, which solves them exactly.
    """
    unknowns = design_unknowns(fluid, design)
    unit = _first_guess(fluid, design, unknowns)
    operation = rated_operation(design.superheat.size)
    state = evaluate(System(fluid, has_valve, unit, operation), unknowns)
    unit = replace(unit, displacement=unit.mass_flow / state.mass_flow * unit.displacement)
    unit = _size_condenser(System(fluid, has_valve, unit, operation), unknowns)
    unit = _size_evaporator(System(fluid, has_valve, unit, operation), unknowns)
    state = evaluate(System(fluid, has_valve, unit, operation), unknowns)
    return replace(unit, metering=unit.mass_flow / state.meter_flow, charge=state.charge), unknowns


def _enthalpy_of_superheat(fluid: RefrigerantFit, dew: Array, superheat: Array) -> Array:
    above = superheat * 1000.0
    for _ in range(8):
        above = above * superheat / np.maximum(fluid.superheat(dew, above), 1e-9)
    return above


def _first_guess(fluid: RefrigerantFit, design: Design, unknowns: Array) -> Unit:
    dew, bubble, above, below = unknowns
    one = np.ones_like(dew)
    leaving = fluid.at_temperature("vapour_enthalpy", dew) + above
    liquid = fluid.at_temperature("liquid_enthalpy", bubble) + below
    flow = NOMINAL_CAPACITY / (leaving - liquid)
    density = fluid.vapour_density(dew, above)
    low, high = fluid.dew_pressure(dew), fluid.bubble_pressure(bubble)
    loss = low - fluid.dew_pressure(dew - design.suction_loss)
    per_kelvin = above / np.maximum(design.superheat, 1e-6)
    surroundings = 0.5 * (RATED_OUTDOOR + RATED_RETURN)
    conductance = flow * per_kelvin * design.suction_gain / (surroundings - dew - design.superheat)
    half_open = design.superheat + np.log(design.valve_reserve - 1.0) / design.valve_gain
    air_flow = design.airflow * NOMINAL_AIRFLOW * air.density(RATED_RETURN * one, STANDARD_PRESSURE * one)
    return Unit(
        design,
        3.0e-4 * one,
        air_flow,
        2.0 * one,
        500.0 * one,
        500.0 * one,
        one,
        half_open,
        conductance,
        density,
        loss / density,
        design.condenser_loss,
        design.liquid_loss,
        flow,
        high - low,
        fluid.at_temperature("liquid_density", bubble - design.subcooling),
        one,
    )


def _size_condenser(system: System, unknowns: Array) -> Unit:
    units = -np.log1p(-system.unit.design.condenser_effectiveness)

    def error(air_rate: Array) -> Array:
        trial = replace(system.unit, condenser_air=air_rate, condenser_conductance=units * air_rate)
        return evaluate(replace(system, unit=trial), unknowns).condenser_error

    rate = _bisect(error, 60.0, 6000.0, units.size)
    return replace(system.unit, condenser_air=rate, condenser_conductance=units * rate)


def _size_evaporator(system: System, unknowns: Array) -> Unit:
    def error(units: Array) -> Array:
        trial = replace(system.unit, transfer_units=units)
        return evaluate(replace(system, unit=trial), unknowns).evaporator_error

    return replace(system.unit, transfer_units=_bisect(error, 0.2, 12.0, unknowns.shape[1]))


def _bisect(error: Callable[[Array], Array], low: float, high: float, count: int) -> Array:
    below, above = np.full(count, low), np.full(count, high)
    for _ in range(BISECTIONS):
        middle = np.sqrt(below * above)
        too_large = error(middle) > 0.0
        above, below = np.where(too_large, middle, above), np.where(too_large, below, middle)
    return np.asarray(np.sqrt(below * above))
