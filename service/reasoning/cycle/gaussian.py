"""Conditioning of stacked Gaussian components on the readings taken; what was not read is left out exactly."""

import numpy as np

from service.physics.arrays import Array
from service.results.record import Record

LOG_TWO_PI = float(np.log(2.0 * np.pi))
# Stands on the diagonal below the readings, so large that no distance uses it up.
_ROOM = 1e300


class Fit(Record):
    """Readings weighed under every component: log-likelihood and squared Mahalanobis distance (..., h).

    bordered (..., o + h + o, o + h + o): see ``total`` and ``difference``; white (..., h, o): differences as
    independent unit normals; whitening (..., o, o): what makes rows so, the transposed inverse of the Cholesky
    factor of total.
    """

    bordered: Array
    white: Array
    whitening: Array
    log_likelihood: Array
    distance: Array

    @property
    def total(self) -> Array:
        """Covariance (..., o, o) of the readings with the errors of their instruments."""
        return self.bordered[..., : self.white.shape[-1], : self.white.shape[-1]]

    @property
    def difference(self) -> Array:
        """Readings less what the component expects (..., h, o)."""
        nodes, count = self.white.shape[-2:]
        return self.bordered[..., count : count + nodes, :count]


def bordered(total: Array, difference: Array, room: float = 0.0) -> Array:
    """Matrices (..., o + h, o + h): total (..., o, o), with rows of difference (..., h, o) below it."""
    nodes, count = difference.shape[-2:]
    found = np.zeros((*total.shape[:-2], count + nodes, count + nodes))
    found[..., :count, :count] = total
    found[..., count:, :count] = difference
    diagonal(found)[..., count:] = room
    return found


def components_of(covariance: Array, residual: Array, nodes: int) -> Array:
    """What of ``fit`` the components bring along: covariance (..., o, o) and residual (..., o) of the readings."""
    rows = np.broadcast_to(-residual[..., None, :], (*residual.shape[:-1], nodes, residual.shape[-1]))
    return bordered(covariance, rows, _ROOM)


def fit(components: Array, visits: Array, count: int) -> Fit:
    """Weigh readings (``count`` of them).

    Parameters: components: see ``components_of``; visits: ``bordered`` errors of the instruments and readings less
    the healthy reference. One Cholesky factor of their sum yields everything: the differences and the unit vectors
    stand as further rows below the covariance, and factoring turns them into independent unit normals, quicker
    than any inverse.
    """
    size = components.shape[-1]
    both = np.zeros((*np.broadcast_shapes(components.shape, visits.shape)[:-2], size + count, size + count))
    np.add(components, visits, out=both[..., :size, :size])
    both[..., size:, :count] = np.eye(count)
    diagonal(both)[..., size:] = _ROOM
    factor: Array = np.asarray(np.linalg.cholesky(both), dtype=np.float64)
    white, whitening = factor[..., count:size, :count], factor[..., size:, :count]
    distance = squares(white)
    scale = np.log(diagonal(factor)[..., :count]).sum(axis=-1, keepdims=True)
    log_likelihood = -0.5 * distance - (scale + 0.5 * count * LOG_TWO_PI)
    return Fit(both, white, whitening, log_likelihood, distance)


def squares(rows: Array) -> Array:
    """Sum of the squares over the last axis."""
    return np.asarray(np.einsum("...o,...o->...", rows, rows))


def diagonal(matrices: Array) -> Array:
    """The diagonals (..., n) of contiguous matrices (..., n, n), as a view that can be written to."""
    size = matrices.shape[-1]
    return matrices.reshape(*matrices.shape[:-2], size * size)[..., :: size + 1]


def without_each(log_evidence: Array, precision: Array, pull: Array) -> Array:
    """Log-evidence (..., h, o) with each reading left out in turn, from that (..., h) with all of them.

    precision (..., o): diagonal of the inverse of the covariance of the readings; pull (..., h, o): that inverse
    times the difference.
    """
    own = precision[..., None, :]
    return np.asarray(log_evidence[..., None] + 0.5 * (pull * pull / own - (np.log(own) - LOG_TWO_PI)))


def alone_each(log_weight: Array, total: Array, difference: Array) -> Array:
    """Log-evidence (..., h, o) of each reading by itself, from the log-weight (..., h) before any reading."""
    own = np.diagonal(total, axis1=-2, axis2=-1)[..., None, :]
    return np.asarray(log_weight[..., None] - 0.5 * (difference * difference / own + (np.log(own) + LOG_TWO_PI)))


def log_sum(values: Array, axis: int) -> Array:
    """Logarithm of a sum of exponentials along an axis."""
    top = values.max(axis=axis, keepdims=True)
    return np.asarray(top.squeeze(axis) + np.log(np.exp(values - top).sum(axis=axis)))
