"""Expected information of readings not yet taken: how much each would narrow the causes, per minute it costs."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_readings import CycleReadingTable, cycle_readings
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


def reading_gain(predicted: Predicted, index: tuple[int, ...]) -> float:
    """Expected information [bit] of one candidate."""
    chosen = np.array(index)
    mean, covariance = predicted.mean[:, chosen], predicted.covariance[:, chosen[:, None], chosen]
    factor = np.linalg.cholesky(covariance)
    grid = np.stack(np.meshgrid(*[NODES] * chosen.size, indexing="ij"), axis=-1).reshape(-1, chosen.size)
    share = np.prod(np.stack(np.meshgrid(*[WEIGHTS] * chosen.size, indexing="ij"), axis=-1), axis=-1).ravel()
    points = mean[:, None, :] + grid @ factor.transpose(0, 2, 1)
    difference = points[:, :, None, :] - mean
    pull = np.einsum("kij,qpkj->qpki", np.linalg.inv(covariance), difference)
    logs = -0.5 * (difference * pull).sum(axis=-1) - np.log(np.diagonal(factor, axis1=1, axis2=2)).sum(axis=1)
    logs = logs + np.log(predicted.weights)
    chance = np.exp(logs - logs.max(axis=-1, keepdims=True))
    member = np.eye(len(CLASSES))[predicted.label]
    after = entropy((chance / chance.sum(axis=-1, keepdims=True)) @ member)
    before = entropy(predicted.weights @ member)
    return max(float(before - predicted.weights @ after @ share), 0.0)


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


def ranked(found: list[CycleNext], table: CycleReadingTable) -> tuple[CycleNext, ...]:
    """What is worth its minutes, best first."""
    worth = [
        item
        for item in found
        if item.bits >= table.least_bits and item.bits_per_minute >= table.least_bits_per_minute
    ]
    return tuple(sorted(worth, key=lambda item: -item.bits_per_minute))


def next_of(names: tuple[str, ...], bits: float, minutes: float, apart: tuple[str, ...]) -> list[CycleNext]:
    """One entry for each of the readings that come together."""
    return [CycleNext(name, bits, minutes, bits / minutes, apart) for name in names]
