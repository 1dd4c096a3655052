"""Solve a whole batch of cycles at once: Newton with step caps, backtracking and continuation from the design."""

import numpy as np
from numpy.typing import NDArray

from service.physics.arrays import Array
from service.results.record import Record, replace
from service.workshop.cycle.balance import System, evaluate, residuals
from service.workshop.cycle.unit import State, between, rated_operation, take

STEPS = np.array([1e-3, 1e-3, 5.0, 5.0])
CAPS = np.array([6.0, 6.0, 12e3, 15e3])
TOLERANCE = 1e-7
LOOSE_TOLERANCE = 1e-4
ITERATIONS = 14
FINAL_ITERATIONS = 40
CONTINUATION_STEPS = 6
BACKTRACKS = 3


class Solution(Record):
    """Solved states, the unknowns (4 x n) and which samples converged."""

    state: State
    unknowns: Array
    converged: NDArray[np.bool_]


def solve(system: System, design_unknowns: Array, steps: int = CONTINUATION_STEPS) -> Solution:
    """Solve every sample by walking from its design state to its operation.

    Parameters: system: the batch; design_unknowns (4 x n) from ``sizing.size``; steps of the walk.
    Samples that did not converge are marked, never dropped silently.
    """
    start = rated_operation(design_unknowns.shape[1])
    unknowns = design_unknowns.copy()
    for step in range(1, steps + 1):
        operation = between(start, system.operation, step / steps)
        last = step == steps
        unknowns = _newton(
            replace(system, operation=operation),
            unknowns,
            FINAL_ITERATIONS if last else ITERATIONS,
            TOLERANCE if last else LOOSE_TOLERANCE,
        )
    state = evaluate(system, unknowns)
    error = np.abs(residuals(system, state)).max(axis=0)
    return Solution(state, unknowns, np.asarray(error < 10.0 * TOLERANCE))


def _newton(system: System, unknowns: Array, iterations: int, tolerance: float) -> Array:
    unknowns = unknowns.copy()
    active = np.arange(unknowns.shape[1])
    for _ in range(iterations):
        part = replace(system, unit=take(system.unit, active), operation=take(system.operation, active))
        current = unknowns[:, active]
        error = residuals(part, evaluate(part, current))
        wrong = ~(np.abs(error).max(axis=0) < tolerance)
        if not wrong.any():
            break
        active, current, error = active[wrong], current[:, wrong], error[:, wrong]
        part = replace(part, unit=take(part.unit, wrong), operation=take(part.operation, wrong))
        unknowns[:, active] = _step(part, current, error)
    return unknowns


def _step(system: System, current: Array, error: Array) -> Array:
    move = np.clip(-_solved(_jacobian(system, current, error), error), -CAPS[:, None], CAPS[:, None])
    size, share = np.abs(error).sum(axis=0), np.ones(current.shape[1])
    best, best_size = current + move, np.full(current.shape[1], np.inf)
    for _ in range(BACKTRACKS):
        trial = current + share * move
        trial_size = np.abs(residuals(system, evaluate(system, trial))).sum(axis=0)
        better = trial_size < best_size
        best = np.where(better, trial, best)
        best_size = np.where(better, trial_size, best_size)
        worse = best_size >= size
        if not worse.any():
            break
        share = np.where(worse, 0.35 * share, share)
    return np.asarray(best)


def _jacobian(system: System, current: Array, error: Array) -> Array:
    columns = []
    for index, step in enumerate(STEPS):
        moved = current.copy()
        moved[index] += step
        columns.append((residuals(system, evaluate(system, moved)) - error) / step)
    return np.stack(columns, axis=-1).transpose(1, 0, 2)


def _solved(jacobian: Array, error: Array) -> Array:
    # A trace on the diagonal keeps a singular sample from spoiling its batch; it will be marked as not converged.
    scaled = jacobian * CAPS
    scaled = scaled + 1e-12 * np.eye(4)
    scaled = np.where(np.isfinite(scaled), scaled, np.eye(4))
    right = np.where(np.isfinite(error), error, 0.0)
    return np.asarray(np.linalg.solve(scaled, right.T[..., None])[..., 0].T * CAPS[:, None])
