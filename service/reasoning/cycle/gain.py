"""Expected information of readings not yet taken: how much each would narrow the causes, per minute it costs."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.results.cycle import CycleNext

# Quadrature over each component's prediction: enough for entropies of a few classes.
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(4)
NODES, WEIGHTS = _NODES, _WEIGHTS / _WEIGHTS.sum()
MOST_COMPONENTS = 20
LEAST_WEIGHT = 2e-3
WORTH_TELLING = 0.04


@dataclass(frozen=True)
class Predicted:
    """Leading components: weights (k), classes (k), mean (k, 14) and covariance (k, 14, 14), errors included."""

    weights: Array
    label: NDArray[np.int64]
    mean: Array
    covariance: Array


@dataclass(frozen=True)
class Candidate:
    """A reading, or readings that come together: coordinates, names, minutes."""

    index: tuple[int, ...]
    names: tuple[str, ...]
    minutes: float


def leading(weights: Array) -> NDArray[np.int64]:
    """Components worth carrying, by their weight (m)."""
    order = np.argsort(-weights, kind="stable")[:MOST_COMPONENTS]
    return np.sort(order[weights[order] >= min(LEAST_WEIGHT, float(weights[order[0]]))])


def candidates(missing: tuple[str, ...]) -> list[Candidate]:
    """What may still be read; readings that come together are one candidate."""
    table = cycle_readings()
    groups: dict[str, list[str]] = {}
    for name in missing:
        groups.setdefault(table.rows[name].together or name, []).append(name)
    return [
        Candidate(
            tuple(READINGS.index(name) for name in names),
            tuple(names),
            max(table.rows[name].minutes for name in names),
        )
        for names in groups.values()
    ]


def entropy(classes: Array) -> Array:
    """Entropy [bit] over the last axis."""
    safe = np.maximum(classes, 1e-12)
    return np.asarray(-(safe * np.log2(safe)).sum(axis=-1))


def gains(predicted: Predicted, offered: list[Candidate]) -> list[float]:
    """Expected information [bit] of each candidate: single readings at once, those that come together after."""
    single = [at for at, candidate in enumerate(offered) if len(candidate.index) == 1]
    found = {at: _together_gain(predicted, offered[at].index) for at in range(len(offered)) if at not in single}
    if single:
        index = np.array([offered[at].index[0] for at in single])
        found |= dict(zip(single, map(float, _single_gains(predicted, index)), strict=True))
    return [max(found[at], 0.0) for at in range(len(offered))]


def _single_gains(predicted: Predicted, index: NDArray[np.int64]) -> Array:
    mean = predicted.mean[:, index].T
    deviation = np.sqrt(predicted.covariance[:, index, index]).T
    points = mean[:, :, None] + deviation[:, :, None] * NODES
    away = (points[..., None] - mean[:, None, None, :]) / deviation[:, None, None, :]
    logs = np.log(predicted.weights / deviation)[:, None, None, :] - 0.5 * away**2
    return _expected_fall(predicted, logs, WEIGHTS)


def _together_gain(predicted: Predicted, index: tuple[int, ...]) -> float:
    chosen = np.array(index)
    mean, covariance = predicted.mean[:, chosen], predicted.covariance[:, chosen[:, None], chosen]
    factor = np.linalg.cholesky(covariance)
    grid = np.stack(np.meshgrid(*[NODES] * chosen.size, indexing="ij"), axis=-1).reshape(-1, chosen.size)
    share = np.prod(np.stack(np.meshgrid(*[WEIGHTS] * chosen.size, indexing="ij"), axis=-1), axis=-1).ravel()
    points = mean[:, None, :] + grid @ factor.transpose(0, 2, 1)
    difference = points[:, :, None, :] - mean
    pull = np.einsum("kij,qpkj->qpki", np.linalg.inv(covariance), difference)
    scale = np.log(np.diagonal(factor, axis1=1, axis2=2)).sum(axis=1)
    logs = np.log(predicted.weights) - scale - 0.5 * (difference * pull).sum(axis=-1)
    return float(_expected_fall(predicted, logs[None], share)[0])


def _expected_fall(predicted: Predicted, logs: Array, share: Array) -> Array:
    """Expected fall of entropy (j) from unnormalised logs (j, k, q, k) at nodes with shares (q)."""
    chance = np.exp(logs - logs.max(axis=-1, keepdims=True))
    present, place = np.unique(predicted.label, return_inverse=True)
    member = np.eye(present.size)[place]
    after = entropy((chance / chance.sum(axis=-1, keepdims=True)) @ member)
    return np.asarray(entropy(predicted.weights @ member) - (after @ share) @ predicted.weights)


def event_gain(classes: Array, names: tuple[str, ...]) -> float:
    """Expected information [bit] of the yes-or-no tests that come together."""
    chances = np.array([cycle_readings().chances[name] for name in names])
    outcomes = classes[None, :]
    for chance in chances:
        outcomes = np.concatenate([outcomes * chance, outcomes * (1.0 - chance)])
    total = outcomes.sum(axis=1)
    return max(float(entropy(classes) - total @ entropy(outcomes / total[:, None])), 0.0)


def humidity_gain(by_node: Array) -> float:
    """Expected information [bit] of the wet bulb, from the joint probability (h, classes) of nodes and classes."""
    total = by_node.sum(axis=1)
    return max(float(entropy(by_node.sum(axis=0)) - total @ entropy(by_node / total[:, None])), 0.0)


def tells_apart(predicted: Predicted, index: tuple[int, ...]) -> tuple[str, ...]:
    """The two likely causes whose predictions of a candidate stand farthest apart."""
    chosen = list(index)
    shares = np.bincount(predicted.label, predicted.weights, minlength=len(CLASSES))
    likely = [int(at) for at in np.flatnonzero(shares > WORTH_TELLING)]
    centre = {
        at: (predicted.weights * (predicted.label == at)) @ predicted.mean[:, chosen] / shares[at] for at in likely
    }
    spread = np.sqrt(np.diagonal(predicted.covariance, axis1=1, axis2=2)[:, chosen].mean(axis=0))
    best = max(
        combinations(likely, 2),
        key=lambda pair: float(np.abs((centre[pair[0]] - centre[pair[1]]) / spread).max()),
        default=(),
    )
    return tuple(CLASSES[at] for at in best)


def worthwhile(bits: float, minutes: float) -> bool:
    """Whether a reading is worth its minutes."""
    table = cycle_readings()
    return bits >= table.least_bits and bits / minutes >= table.least_bits_per_minute


def next_of(names: tuple[str, ...], bits: float, minutes: float, apart: tuple[str, ...]) -> list[CycleNext]:
    """One entry for each of the readings that come together."""
    return [CycleNext(name, bits, minutes, bits / minutes, apart) for name in names]
