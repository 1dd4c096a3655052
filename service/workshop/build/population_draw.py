"""Simulate one group of systems: refrigerant, kind of metering and efficiency class, every class of fault."""

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES
from service.physics.arrays import Array
from service.physics.cycle import air
from service.physics.cycle.readings import BASELINE_COUNT
from service.results.record import Record, fields, replace
from service.workshop.build.population_faults import apply_fault
from service.workshop.build.population_sampling import (
    Ranges,
    charge_held_back,
    draw_designs,
    draw_placement,
    draw_weather,
)
from service.workshop.cycle.balance import System, evaluate
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.readings import Placement, readings
from service.workshop.cycle.sizing import size
from service.workshop.cycle.solver import solve
from service.workshop.cycle.unit import Operation, State, rated_operation, take

# Below this suction saturation the coil frosts and no steady state exists; above the other a switch opens.
FROST = 261.0
HOTTEST_CONDENSING = 339.0


class Population(Record):
    """Simulated visits, a row each.

    label: index into CLASSES; share [0..1] of the class's range of fault size; conditions (outdoor dry bulb,
    return dry bulb, return wet bulb [K], barometric pressure [Pa]); values (14 readings); sound_conditions and
    sound_values: the same unit when sound, in other weather; losses: natural logarithm of the capacity and of the
    power over the same unit's when sound in the same weather; kept: share solved within limits, by class.
    """

    label: NDArray[np.int64]
    share: Array
    conditions: Array
    values: Array
    sound_conditions: Array
    sound_values: Array
    losses: Array
    kept: Array


def simulate(
    fluid: RefrigerantFit,
    has_valve: bool,
    ranges: Ranges,
    rng: np.random.Generator,
    per_class: int,
    classes: tuple[str, ...] = CLASSES,
) -> Population:
    """Simulate visits to ``per_class`` different units of each class."""
    label = np.repeat(np.array([CLASSES.index(name) for name in classes]), per_class)
    design = draw_designs(rng, ranges, has_valve, label.size, condensing_glide(fluid))
    unit, start = size(fluid, has_valve, design)
    rated = evaluate(System(fluid, has_valve, unit, rated_operation(label.size)), start)
    placement = draw_placement(rng, ranges, design, rated.power)
    sound, other = draw_weather(rng, ranges, label.size), draw_weather(rng, ranges, label.size)
    other = _same_unit(other, sound)
    if has_valve and ranges.held_back[1] > 0.0:
        held_back = rng.uniform(*ranges.held_back, label.size)
        sound, other = _acting(sound, held_back), _acting(other, held_back)
    share = rng.random(label.size)
    faulty = _with_faults(sound, label, share, has_valve)
    at_baseline = draw_placement(rng, ranges, design, rated.power)
    at_baseline = replace(at_baseline, amps_at_rating=placement.amps_at_rating)
    visits = [
        _visit(System(fluid, has_valve, unit, operation), start, where)
        for operation, where in ((faulty, placement), (sound, placement), (other, at_baseline))
    ]
    keep = visits[0][2] & visits[1][2] & visits[2][2]
    losses = _losses(visits[0][1], visits[1][1])
    kept = np.array([keep[label == CLASSES.index(name)].mean() for name in classes])
    return Population(
        label[keep],
        share[keep],
        _conditions(faulty)[keep],
        visits[0][0][keep],
        _conditions(other)[keep],
        visits[2][0][keep, :BASELINE_COUNT],
        losses[keep],
        kept,
    )


def condensing_glide(fluid: RefrigerantFit) -> float:
    """Dew less bubble temperature [K] at the pressure that boils at 45 degC."""
    bubble = np.array([318.15])
    return float((fluid.dew_temperature(fluid.bubble_pressure(bubble)) - bubble)[0])


def _visit(system: System, start: Array, placement: Placement) -> tuple[Array, State, NDArray[np.bool_]]:
    solution = solve(system, start)
    state = solution.state
    highest = min(HOTTEST_CONDENSING, system.fluid.highest - 0.5)
    within = (state.evaporating > FROST) & (state.condensing < highest)
    within &= state.discharge_temperature < system.fluid.highest + 110.0
    values = readings(system.fluid, system.unit, system.operation, state, placement)
    return values, state, solution.converged & within & np.isfinite(values).all(axis=1)


def _with_faults(operation: Operation, label: NDArray[np.int64], share: Array, has_valve: bool) -> Operation:
    values = {field.name: getattr(operation, field.name).copy() for field in fields(operation)}
    for index in np.unique(label):
        chosen = label == index
        changed = apply_fault(take(operation, chosen), CLASSES[index], share[chosen], has_valve)
        for name, column in values.items():
            column[chosen] = getattr(changed, name)
    return Operation(**values)


def _same_unit(other: Operation, first: Operation) -> Operation:
    # Charge, airflow setting, valve wear, drier and site do not change between two visits to a sound unit.
    return replace(
        other,
        charge=first.charge,
        indoor_flow=first.indoor_flow,
        outdoor_flow=first.outdoor_flow,
        leakage=first.leakage,
        drier_loss=first.drier_loss,
        pressure=first.pressure,
    )


def _acting(operation: Operation, held_back: Array) -> Operation:
    return replace(operation, charge=operation.charge * charge_held_back(held_back, operation))


def _conditions(operation: Operation) -> Array:
    wet_bulb = air.wet_bulb(operation.return_dry_bulb, operation.return_ratio, operation.pressure)
    return np.stack([operation.outdoor, operation.return_dry_bulb, wet_bulb, operation.pressure], axis=1)


def _losses(faulty: State, sound: State) -> Array:
    ratios = np.stack([faulty.capacity / sound.capacity, faulty.power / sound.power], axis=1)
    return np.asarray(np.log(np.maximum(ratios, 0.05)))
