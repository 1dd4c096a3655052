"""The terms of the healthy reference: a quadratic in three conditions and a line in barometric pressure."""

import numpy as np

from service.physics.cycle.fluid import Array

# Middle and scale of outdoor dry bulb, return dry bulb, return wet bulb [K] and barometric pressure [Pa].
CENTRE = np.array([305.0, 298.0, 291.0, 101_325.0])
WIDTH = np.array([10.0, 5.0, 5.0, 10_000.0])


def design_matrix(conditions: Array) -> Array:
    """Terms (n x 11) of conditions (n x 4): 1, o, r, w, oo, rr, ww, or, ow, rw, p, all centred and scaled."""
    o, r, w, p = ((conditions - CENTRE) / WIDTH).T
    return np.stack([np.ones_like(o), o, r, w, o * o, r * r, w * w, o * r, o * w, r * w, p], axis=1)


def slopes(conditions: Array) -> Array:
    """Derivative (n x 11 x 3) of the terms to outdoor dry bulb, return dry bulb and return wet bulb [1/K]."""
    o, r, w, _ = ((conditions - CENTRE) / WIDTH).T
    one, zero = np.ones_like(o), np.zeros_like(o)
    by_outdoor = np.stack([zero, one, zero, zero, 2 * o, zero, zero, r, w, zero, zero], axis=1) / WIDTH[0]
    by_return = np.stack([zero, zero, one, zero, zero, 2 * r, zero, o, zero, w, zero], axis=1) / WIDTH[1]
    by_wet = np.stack([zero, zero, zero, one, zero, zero, 2 * w, zero, o, r, zero], axis=1) / WIDTH[2]
    return np.stack([by_outdoor, by_return, by_wet], axis=2)
