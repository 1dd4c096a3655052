"""Sizing and solving of the second model."""

import numpy as np

from service.results.record import Record
from tests.outside.fluid import Saturation
from tests.outside.machine import TON, Machine, Solved, evaluate, saturated_ratio

Array = np.ndarray
STEPS = np.array([0.02, 0.02, 60.0, 60.0])
LARGEST = np.array([5.0, 5.0, 1.0e4, 1.2e4])[:, None]


class Plant(Record):
    """Sized units of one refrigerant and device with the unknowns that solve them at rating A."""

    fluid: Saturation
    has_valve: bool
    unit: Machine
    start: Array


def rated(count: int) -> Machine:
    """Rating A (95 degF, 80/67 degF) with nothing wrong."""
    one = np.ones(count)
    wet = saturated_ratio(292.594 * one, 101_325.0 * one)
    dry = 299.817 * one
    ratio = wet - 4.1e-4 * (dry - 292.594)
    values = {"outdoor": 308.15 * one, "return_dry_bulb": dry, "return_ratio": ratio, "pressure": 101_325.0 * one}
    values |= dict.fromkeys(("charge", "indoor_flow", "outdoor_flow", "fin_share", "area", "opening"), one)
    return Machine(values | dict.fromkeys(("leakage", "foreign", "restriction", "static_shift"), 0.0 * one))


def sized(fluid: Saturation, has_valve: bool, unit: Machine) -> Plant:
    """Back out what makes each unit do at rating A what its design says."""
    count = unit["superheat"].size
    boiling, condensing = unit["boiling"], unit["condensing"]
    over = unit["superheat"] * fluid.at("vapour_heat", boiling)
    below = -unit["subcooling"] * fluid.at("liquid_heat", condensing)
    x = np.stack([boiling, condensing, over, below])
    taken = fluid.at("vapour", boiling) + over - fluid.at("liquid", condensing) - below
    flow = TON / taken
    lift = fluid.at("pressure", condensing) - fluid.at("pressure", boiling)
    unit = unit.but(flow=flow, lift=lift)
    run = rated(count)
    found = evaluate(fluid, has_valve, unit, run, x)
    unit = unit.but(displacement=flow / found["flow"])
    found = evaluate(fluid, has_valve, unit, run, x)
    unit = unit.but(area=flow / found["meter"])
    for name, what, low, high in (("contact", 1, 0.2, 8.0), ("outdoor_air", 2, 0.05, 3.0)):
        below_, above = np.full(count, low), np.full(count, high)
        for _ in range(40):
            middle = np.sqrt(below_ * above)
            error = evaluate(fluid, has_valve, unit.but(**{name: middle}), run, x).residual[what]
            large = error > 0.0 if what == 1 else error < 0.0
            above, below_ = np.where(large, middle, above), np.where(large, below_, middle)
        unit = unit.but(**{name: np.sqrt(below_ * above)})
    return Plant(fluid, has_valve, unit, x)


def solve(plant: Plant, run: Machine) -> tuple[Solved, Array]:
    """Newton with damping from rating A to what runs; which units came to rest (residual under 1e-5)."""
    first, x = rated(run["outdoor"].size), plant.start.copy()
    for share in (0.25, 0.5, 0.75, 1.0):
        mixed = Machine({name: first[name] + share * (run[name] - first[name]) for name in first.values})
        for _ in range(12 if share < 1.0 else 40):
            x = _step(plant, mixed, x)
    found = evaluate(plant.fluid, plant.has_valve, plant.unit, run, x)
    return found, np.abs(found.residual).max(axis=0) < 1e-5


def _step(plant: Plant, run: Machine, x: Array) -> Array:
    def residual(at: Array) -> Array:
        return evaluate(plant.fluid, plant.has_valve, plant.unit, run, at).residual

    here = residual(x)
    columns = []
    for place, size in enumerate(STEPS):
        moved = x.copy()
        moved[place] += size
        columns.append((residual(moved) - here) / size)
    slope = np.stack(columns, axis=1).transpose(2, 0, 1)
    scale = np.array([1.0, 1.0, 1e3, 1e3])
    slope = slope * scale + 1e-9 * np.eye(4)
    step = -np.linalg.solve(slope, here.T[..., None])[..., 0].T * scale[:, None]
    worst = np.maximum(np.abs(step / LARGEST).max(axis=0), 1.0)
    step = step / worst
    best = np.abs(here).max(axis=0)
    for _ in range(3):
        better = np.abs(residual(x + step)).max(axis=0) < best * 1.02 + 1e-9
        step = np.where(better, step, 0.45 * step)
    return x + step
