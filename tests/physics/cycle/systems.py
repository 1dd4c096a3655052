"""Sound units to solve in tests: fits once for a session, designs drawn from the fitting population or typical."""

from functools import cache

import numpy as np

from service.physics.cycle import air
from service.results.record import replace
from service.workshop.build.population_faults import apply_fault
from service.workshop.build.population_fluids import fit_refrigerant
from service.workshop.build.population_sampling import STANDARD, draw_designs
from service.workshop.cycle.balance import System
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.sizing import size
from service.workshop.cycle.solver import Solution, solve
from service.workshop.cycle.unit import Operation, rated_operation

REFRIGERANTS = ("R-22", "R-410A", "R-407C", "R-32", "R-454B")
# What the trade and published tests say holds for units of no unusual make.
USUAL = replace(STANDARD, unusual=0.0, calibrated_tubes=0.0)
fluid = cache(fit_refrigerant)


@cache
def _sized(designation: str, has_valve: bool, count: int):
    refrigerant: RefrigerantFit = fluid(designation)
    design = draw_designs(np.random.default_rng(11), USUAL, has_valve, count)
    return (refrigerant, *size(refrigerant, has_valve, design))


def units(designation: str, has_valve: bool, count: int = 80):
    """Fitted refrigerant, sized units and the unknowns that solve their design state."""
    return _sized(designation, has_valve, count)


def solved(designation: str, has_valve: bool, operation: Operation, count: int = 80) -> tuple[System, Solution]:
    """The drawn units solved in an operation."""
    refrigerant, unit, start = units(designation, has_valve, count)
    system = System(refrigerant, has_valve, unit, operation)
    return system, solve(system, start)


def weather(outdoor: float, dry_bulb: float = 299.8167, wet_bulb: float = 292.5944, count: int = 80) -> Operation:
    """Rating operation moved to other weather [K]."""
    operation, one = rated_operation(count), np.ones(count)
    ratio = air.humidity_ratio(dry_bulb * one, wet_bulb * one, operation.pressure)
    return replace(operation, outdoor=outdoor * one, return_dry_bulb=dry_bulb * one, return_ratio=ratio)


def with_fault(operation: Operation, name: str, share: float, has_valve: bool) -> Operation:
    """An operation with a fault of a place [0..1] in its range of size."""
    return apply_fault(operation, name, np.full(operation.outdoor.size, share), has_valve)
