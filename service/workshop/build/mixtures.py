"""Fit the healthy references and the mixtures of residuals that are shipped."""

import numpy as np

from service.knowledge.cycle_model import CLASSES, COMPONENTS, CycleArrays
from service.physics.arrays import Array
from service.physics.cycle.readings import BASELINE_COUNT
from service.physics.cycle.reference import design_matrix
from service.workshop.build.population_draw import Population

ITERATIONS = 80
# Scale of each reading [K or 1]: about one standard deviation of ordinary instruments. Used to regularise the fit.
SCALE = np.array([0.5, 0.4, 0.6, 0.6, 1.4, 0.6, 0.7, 0.6, 0.08, 0.04, 0.3, 0.6, 0.8, 1.0])
# No component is narrower than this share of the scale: the model of the machine is not exact either.
SMALLEST_DEVIATION = 0.5
# The size of a fault's effect is not known better than this: spread along and around the mean residual.
EFFECT_ALONG = 0.08
EFFECT_AROUND = 0.05
HIDDEN = 3
SMALLEST_WEIGHT = 0.02


def fit_group(population: Population) -> CycleArrays:
    """Fit the reference and every class of one group."""
    reference = fit_reference(population)
    residual = population.values - design_matrix(population.conditions) @ reference.T
    sound = design_matrix(population.sound_conditions) @ reference[:BASELINE_COUNT].T
    baseline = population.sound_values - sound
    hidden = np.column_stack([population.share, population.losses])
    parts = []
    for index in range(len(CLASSES)):
        chosen = population.label == index
        parts.append(_fit_class(residual[chosen], baseline[chosen], hidden[chosen], population.share[chosen]))
    return CycleArrays(reference, *(np.stack([part[at] for part in parts]) for at in range(len(parts[0]))))


def fit_reference(population: Population) -> Array:
    """Coefficients (14 x terms) of the healthy reference, by least squares on every sound visit."""
    sound = population.label == 0
    first = design_matrix(population.conditions[sound])
    other = design_matrix(population.sound_conditions)
    late = np.linalg.lstsq(first, population.values[sound, BASELINE_COUNT:], rcond=None)[0].T
    both = np.concatenate([first, other])
    values = np.concatenate([population.values[sound, :BASELINE_COUNT], population.sound_values])
    early = np.linalg.lstsq(both, values, rcond=None)[0].T
    return np.concatenate([early, late])


def _fit_class(residual: Array, baseline: Array, hidden: Array, share: Array) -> tuple[Array, ...]:
    member = _expectation_maximisation(residual / SCALE, share)
    weights = member.mean(axis=0)
    mass = member.sum(axis=0)[:, None]
    means, hidden_means, sound_means = (member.T @ x / mass for x in (residual, hidden, baseline))
    covariances = np.stack([_moment(residual - m, residual - m, g) for m, g in zip(means, member.T, strict=True)])
    cross = np.stack(
        [_moment(hidden - h, residual - m, g) for h, m, g in zip(hidden_means, means, member.T, strict=True)]
    )
    variances = np.stack([(g @ (hidden - h) ** 2) / g.sum() for h, g in zip(hidden_means, member.T, strict=True)])
    slopes, spread = _baseline_regression(residual, baseline, means, sound_means, member)
    inflated = covariances + np.stack([_discrepancy(mean) for mean in means])
    return weights, means, inflated, hidden_means, cross, variances, sound_means, slopes, spread


def _moment(first: Array, second: Array, member: Array) -> Array:
    return np.asarray((first * member[:, None]).T @ second / member.sum())


def _discrepancy(mean: Array) -> Array:
    """Covariance for what the model does not know: a floor, and a share of the fault's own effect."""
    floor = (SMALLEST_DEVIATION * SCALE) ** 2
    return np.diag(floor + (EFFECT_AROUND * mean) ** 2) + EFFECT_ALONG**2 * np.outer(mean, mean)


def _expectation_maximisation(data: Array, share: Array) -> Array:
    # The start by thirds of fault size is deterministic and meaningful: components become slight, middle, severe.
    order = np.argsort(np.argsort(share)) * COMPONENTS // share.size
    member = np.eye(COMPONENTS)[order]
    for _ in range(ITERATIONS):
        logs = np.stack([_component_log(data, g) for g in member.T], axis=1)
        logs -= logs.max(axis=1, keepdims=True)
        member = np.exp(logs)
        member /= member.sum(axis=1, keepdims=True)
        member = (member + SMALLEST_WEIGHT / COMPONENTS) / (1.0 + SMALLEST_WEIGHT)
    return member


def _component_log(data: Array, member: Array) -> Array:
    mean = member @ data / member.sum()
    covariance = _moment(data - mean, data - mean, member) + SMALLEST_DEVIATION**2 * np.eye(data.shape[1])
    factor = np.linalg.cholesky(covariance)
    white = np.linalg.solve(factor, (data - mean).T)
    return np.asarray(np.log(member.mean()) - np.log(np.diag(factor)).sum() - 0.5 * (white**2).sum(axis=0))


def _baseline_regression(
    residual: Array, baseline: Array, means: Array, sound_means: Array, member: Array
) -> tuple[Array, Array]:
    """Slopes (10 x 14) of the sound visit's residual on today's, shared by the components, and what is left."""
    centred = np.concatenate([(residual - m) * np.sqrt(g)[:, None] for m, g in zip(means, member.T, strict=True)])
    wanted = np.concatenate(
        [(baseline - m) * np.sqrt(g)[:, None] for m, g in zip(sound_means, member.T, strict=True)]
    )
    ridge = residual.shape[0] * np.diag((SMALLEST_DEVIATION * SCALE) ** 2)
    slopes = np.linalg.solve(centred.T @ centred + ridge, centred.T @ wanted).T
    left = wanted - centred @ slopes.T
    spread = left.T @ left / residual.shape[0] + np.diag((0.5 * SMALLEST_DEVIATION * SCALE[:BASELINE_COUNT]) ** 2)
    return np.asarray(slopes), np.asarray(spread)
