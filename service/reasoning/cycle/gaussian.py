"""Conditioning of stacked Gaussian components on the readings taken; what was not read is left out exactly."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.physics.cycle.fluid import Array

LOG_TWO_PI = float(np.log(2.0 * np.pi))


@dataclass(frozen=True)
class Taken:
    """Readings taken: coordinates (o), values (o) or (m, o), and covariance of their errors (m, o, o)."""

    index: NDArray[np.int64]
    values: Array
    noise: Array


@dataclass(frozen=True)
class Fit:
    """Log-likelihood (h, m), precision (m, o, o) of the readings taken, difference and its product (h, m, o)."""

    log_likelihood: Array
    precision: Array
    difference: Array
    pull: Array

    @property
    def distance(self) -> Array:
        """Squared Mahalanobis distance (h, m)."""
        return np.asarray((self.difference * self.pull).sum(axis=-1))


def fit(mean: Array, covariance: Array, taken: Taken) -> Fit:
    """Weigh readings under every component."""
    total = covariance[:, taken.index[:, None], taken.index] + taken.noise
    precision = np.linalg.inv(total)
    difference = taken.values - mean[:, :, taken.index]
    pull = np.einsum("moi,hmi->hmo", precision, difference)
    log_determinant = np.linalg.slogdet(total)[1]
    distance = (difference * pull).sum(axis=-1)
    constant = taken.index.size * LOG_TWO_PI
    log_likelihood = np.asarray(-0.5 * (constant + log_determinant + distance))
    return Fit(log_likelihood, np.asarray(precision), np.asarray(difference), np.asarray(pull))


def given(
    mean: Array, covariance: Array, taken: Taken, fitted: Fit, wanted: NDArray[np.int64]
) -> tuple[Array, Array]:
    """Mean (h, m, w) and covariance (m, w, w) of coordinates, free of their own errors, given the readings."""
    across = covariance[:, wanted[:, None], taken.index]
    moved = mean[:, :, wanted] + np.einsum("mwo,hmo->hmw", across, fitted.pull)
    left = covariance[:, wanted[:, None], wanted] - across @ fitted.precision @ across.transpose(0, 2, 1)
    return moved, left


def without_each(fitted: Fit) -> Array:
    """Log-likelihood (h, m, o) with each reading left out in turn."""
    own = np.diagonal(fitted.precision, axis1=1, axis2=2)
    alone = 0.5 * (np.log(own) - LOG_TWO_PI - fitted.pull**2 / own)
    return np.asarray(fitted.log_likelihood[..., None] - alone)


def alone_each(covariance: Array, taken: Taken, fitted: Fit) -> Array:
    """Log-likelihood (h, m, o) of each reading by itself."""
    own = covariance[:, taken.index, taken.index] + np.diagonal(taken.noise, axis1=1, axis2=2)
    return np.asarray(-0.5 * (LOG_TWO_PI + np.log(own) + fitted.difference**2 / own))


def log_sum(values: Array, axis: int | tuple[int, ...]) -> Array:
    """Logarithm of a sum of exponentials."""
    top = values.max(axis=axis, keepdims=True)
    return np.asarray(np.squeeze(top, axis) + np.log(np.exp(values - top).sum(axis=axis)))
