"""The terms of the healthy reference: a quadratic in three conditions and a line in barometric pressure."""

import numpy as np

from service.physics.arrays import Array

# Middle and scale of outdoor dry bulb, return dry bulb, return wet bulb [K] and barometric pressure [Pa].
CENTRE = np.array([305.0, 298.0, 291.0, 101_325.0])
WIDTH = np.array([10.0, 5.0, 5.0, 10_000.0])
# The same with a column of 1 before them, which stays as it is.
_CENTRE, _WIDTH = np.concatenate([[0.0], CENTRE]), np.concatenate([[1.0], WIDTH])
# Each term is a product of two of (1, o, r, w, p), by their places.
_FIRST = np.array([0, 1, 2, 3, 1, 2, 3, 1, 1, 2, 4])
_SECOND = np.array([0, 0, 0, 0, 1, 2, 3, 2, 3, 3, 0])
# What each factor changes by with outdoor dry bulb, return dry bulb and return wet bulb [1/K].
_BY_FIRST = (_FIRST[:, None] == np.arange(1, 4)) / WIDTH[:3]
_BY_SECOND = (_SECOND[:, None] == np.arange(1, 4)) / WIDTH[:3]


def design_matrix(conditions: Array) -> Array:
    """Terms 1, o, r, w, oo, rr, ww, or, ow, rw, p of the conditions, all centred and scaled.

    Parameters
    ----------
    conditions : [K], [K], [K], [Pa], shape (..., 4): outdoor dry bulb, return dry bulb, return wet bulb, barometer

    Returns
    -------
    [1], shape (..., 11)

    References
    ----------
    This project's choice of terms, fitted to its simulated population.
    """
    scaled = _scaled(conditions)
    return np.asarray(scaled[..., _FIRST] * scaled[..., _SECOND])


def slopes(conditions: Array) -> Array:
    """Derivative of the terms to outdoor dry bulb, return dry bulb and return wet bulb.

    Parameters
    ----------
    conditions : [K], [K], [K], [Pa], shape (..., 4)

    Returns
    -------
    [1/K], shape (..., 11, 3)

    References
    ----------
    Derivative of `design_matrix`.
    """
    scaled = _scaled(conditions)
    first, second = scaled[..., _FIRST, None], scaled[..., _SECOND, None]
    return np.asarray(second * _BY_FIRST + first * _BY_SECOND)


def products(conditions: Array) -> Array:
    """Products of any two of (1, o, r, w, p); see ``by_products``.

    Parameters
    ----------
    conditions : [1], [K], [K], [K], [Pa], shape (..., 5): a column of 1 before the four conditions

    Returns
    -------
    [1], shape (..., 25)

    References
    ----------
    The same terms as `design_matrix`.
    """
    scaled = (conditions - _CENTRE) / _WIDTH
    pairs = scaled[..., None] * scaled[..., None, :]
    return np.asarray(pairs.reshape(*conditions.shape[:-1], conditions.shape[-1] ** 2))


def by_products(coefficients: Array) -> Array:
    """A reference and its three slopes as coefficients of the products of conditions.

    Where a reference is asked for again and again, one product of matrices then gives value and slopes.

    Parameters
    ----------
    coefficients : [unit of the reference], shape (..., 11)

    Returns
    -------
    [unit of the reference] and that per [K], shape (25, ..., 4)

    References
    ----------
    The same terms as `design_matrix` and `slopes`.
    """
    size, places = WIDTH.size + 1, np.arange(_FIRST.size)
    found = np.zeros((size * size, _FIRST.size, 1 + _BY_FIRST.shape[1]))
    found[_FIRST * size + _SECOND, places, 0] = 1.0
    found[_SECOND, places, 1:] += _BY_FIRST  # the place of 1 times the factor
    found[_FIRST, places, 1:] += _BY_SECOND
    return np.asarray(np.moveaxis(np.tensordot(coefficients, found, axes=(-1, 1)), -2, 0))


def _scaled(conditions: Array) -> Array:
    scaled = np.ones((*conditions.shape[:-1], conditions.shape[-1] + 1))
    scaled[..., 1:] = (conditions - CENTRE) / WIDTH
    return scaled
