"""Expected information of readings not yet taken: how much each would narrow the causes, per minute it costs."""

from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_readings import cycle_readings
from service.physics.arrays import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.gaussian import diagonal
from service.reasoning.cycle.settling import by_cause, settle
from service.results.cycle import CycleNext
from service.results.record import Record

# Quadrature over each component's prediction: enough for entropies of a few classes.
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(4)
NODES, WEIGHTS = _NODES, _WEIGHTS / _WEIGHTS.sum()
_ROOT_TWO = np.sqrt(2.0)
MOST_COMPONENTS = 20
LEAST_WEIGHT = 2e-3
_LEAST = 1e-300


class Leading(Record):
    """Components worth carrying (v, k): index among all, weights summing to 1, and classes, by their place among
    ``present``, the classes of any visit. A visit with fewer components has the rest at weight 0."""

    index: NDArray[np.int64]
    weights: Array
    place: NDArray[np.int64]
    present: tuple[int, ...]


class Candidate(Record):
    """A reading, or readings that come together: coordinates, names, minutes; columns: see ``Offer``."""

    index: tuple[int, ...]
    names: tuple[str, ...]
    minutes: float
    columns: tuple[int, ...]


class Offer(Record):
    """Candidates, and the coordinates (w) of all their readings one after another; single: which candidates are
    one reading, and their columns.
    """

    candidates: tuple[Candidate, ...]
    wanted: NDArray[np.int64]
    single: tuple[NDArray[np.int64], NDArray[np.int64]]


class Gains(Record):
    """What candidates (v, j) are expected to bring: information [bit], what it adds to the worth of what may be
    decided [0..1] (see ``settling``), and the chance that the decision changes."""

    bits: Array
    worth: Array
    changes: Array

    def of(self, visit: int) -> Any:
        """The three of each candidate of a visit, or of the one."""
        return np.stack([self.bits[visit], self.worth[visit], self.changes[visit]], axis=-1).tolist()


class Predicted(Record):
    """What leading components predict of the readings offered: mean (v, k, w) and covariance (v, k, w, w), errors
    of instruments included.
    """

    leading: Leading
    mean: Array
    covariance: Array


def worth_carrying(weights: Sequence[float]) -> list[int]:
    """Components that carry enough of the weights (m) of all."""
    least = min(LEAST_WEIGHT, max(weights))
    found = [at for at, weight in enumerate(weights) if weight >= least]
    return found if len(found) <= MOST_COMPONENTS else sorted(found, key=lambda at: -weights[at])[:MOST_COMPONENTS]


def leading(chosen: Sequence[list[int]], weights: Sequence[Sequence[float]], each: int) -> Leading:
    """Components chosen for each visit, by the weights (v, m) of all; ``each`` of them make up a class."""
    present = sorted({at // each for one in chosen for at in one})
    most = max(map(len, chosen))
    place = {label: at for at, label in enumerate(present)}
    filled = [one + one[:1] * (most - len(one)) for one in chosen]
    found = np.zeros((len(chosen), most))
    for row, one, every in zip(found, chosen, weights, strict=True):
        total = sum(every[at] for at in one)
        row[: len(one)] = [every[at] / total for at in one]
    places = np.array([[place[at // each] for at in one] for one in filled])
    return Leading(np.array(filled), found, places, tuple(present))


@lru_cache(maxsize=256)
def offer(missing: tuple[str, ...]) -> Offer:
    """What may still be read; readings that come together are one candidate."""
    table = cycle_readings()
    groups: dict[str, list[str]] = {}
    for name in missing:
        groups.setdefault(table.rows[name].together or name, []).append(name)
    found: list[Candidate] = []
    for names in groups.values():
        index = tuple(READINGS.index(name) for name in names)
        first = found[-1].columns[-1] + 1 if found else 0
        minutes = max(table.rows[name].minutes for name in names)
        found.append(Candidate(index, tuple(names), minutes, tuple(range(first, first + len(names)))))
    single = [at for at, candidate in enumerate(found) if len(candidate.index) == 1]
    return Offer(
        tuple(found),
        np.array([at for candidate in found for at in candidate.index], dtype=np.int64),
        (np.array(single, dtype=np.int64), np.array([found[at].columns[0] for at in single], dtype=np.int64)),
    )


def entropy(classes: Array) -> Array:
    """Entropy [bit] over the last axis."""
    safe = np.maximum(classes, 1e-12)
    return np.asarray(-(safe * np.log2(safe)).sum(axis=-1))


def gains(predicted: Predicted, offered: Offer) -> Gains:
    """What each candidate is expected to bring: single readings at once, those that come together after."""
    found = np.zeros((3, len(predicted.mean), len(offered.candidates)))
    places, columns = offered.single
    if places.size:
        found[..., places] = _single_gains(predicted, columns)
    for at, candidate in enumerate(offered.candidates):
        if len(candidate.columns) > 1:
            found[..., at] = _together_gain(predicted, np.array(candidate.columns))
    return Gains(*np.maximum(found, 0.0))


def _single_gains(predicted: Predicted, columns: NDArray[np.int64]) -> Array:
    mean = predicted.mean.take(columns, axis=-1).swapaxes(1, 2)
    deviation = np.sqrt(diagonal(predicted.covariance).take(columns, axis=-1)).swapaxes(1, 2)
    points = mean[..., None] + deviation[..., None] * NODES
    away = (points[..., None] - mean[:, :, None, None]) / (_ROOT_TWO * deviation)[:, :, None, None]
    return _expected(predicted.leading, np.exp(-(away * away)), 1.0 / deviation, WEIGHTS)


def _together_gain(predicted: Predicted, columns: NDArray[np.int64]) -> Array:
    mean = predicted.mean[..., columns]
    factor = np.linalg.cholesky(predicted.covariance[..., columns[:, None], columns])
    grid, share = _grid(columns.size)
    points = mean[..., None, :] + grid @ factor.swapaxes(-1, -2)
    visits, count = predicted.leading.weights.shape
    every = points.reshape(visits, 1, -1, columns.size) - mean[:, :, None]
    white = every @ np.linalg.inv(factor).swapaxes(-1, -2)
    away = (white * white).sum(axis=-1).swapaxes(1, 2).reshape(visits, 1, count, -1, count)
    height = 1.0 / np.diagonal(factor, axis1=-2, axis2=-1).prod(axis=-1)
    return _expected(predicted.leading, np.exp(-0.5 * away), height[:, None], share)[..., 0]


@cache
def _grid(count: int) -> tuple[Array, Array]:
    """Nodes (q, count) and shares (q) of the quadrature over readings that come together."""
    nodes = np.stack(np.meshgrid(*[NODES] * count, indexing="ij"), axis=-1).reshape(-1, count)
    shares = np.stack(np.meshgrid(*[WEIGHTS] * count, indexing="ij"), axis=-1)
    return nodes, np.prod(shares, axis=-1).ravel()


def _expected(found: Leading, density: Array, height: Array, share: Array) -> Array:
    """``Gains`` (3, v, j) at nodes with shares (q), from densities (v, j, k, q, k) of the components, all but
    their height (v, j, k).

    Each node lies near the middle of its own component, so no sum of densities vanishes where there is weight.
    """
    visits, offered, count = density.shape[:3]
    member = np.eye(len(found.present))[found.place] * found.weights[..., None]
    after = density.reshape(visits, offered, -1, count) @ (member[:, None] * height[..., None])
    after /= np.maximum(after.sum(axis=-1, keepdims=True), _LEAST)
    before, causes = member.sum(axis=1), by_cause()[list(found.present)]
    now, then = settle(before @ causes), settle(after @ causes)
    changed = then.cause != now.cause[:, None, None]

    def mean(values: Array) -> Array:
        nodes = values.reshape(visits, offered, count, share.size) @ share
        return np.asarray((nodes @ found.weights[..., None])[..., 0])

    fall = entropy(before)[:, None] - mean(entropy(after))
    return np.stack([fall, mean(then.worth) - now.worth[:, None], mean(changed.astype(float))])


def event_gain(classes: Array, names: tuple[str, ...]) -> Gains:
    """``Gains`` (v) of yes-or-no tests that come together, by the chances of classes (v, c)."""
    return _of_outcomes(classes[:, None] * _outcomes(names).T)


@cache
def _outcomes(names: tuple[str, ...]) -> Array:
    """Chance (c, outcomes) by class of every outcome of yes-or-no tests."""
    found = np.ones((len(CLASSES), 1))
    for name in names:
        chance = np.array(cycle_readings().chances[name])[:, None]
        found = np.concatenate([found * chance, found * (1.0 - chance)], axis=1)
    return found


def humidity_gain(by_node: Array) -> Gains:
    """``Gains`` (v) of the wet bulb, from the joint probability (v, h, c) of nodes and classes."""
    return _of_outcomes(by_node)


def _of_outcomes(joint: Array) -> Gains:
    """``Gains`` (v) of what comes out in one of a few ways, from the joint probability (v, o, c)."""
    chance, before = joint.sum(axis=-1), joint.sum(axis=1)
    after = joint / np.maximum(chance, _LEAST)[..., None]
    now, then = settle(before @ by_cause()), settle(after @ by_cause())
    changed = then.cause != now.cause[:, None]
    return Gains(
        np.maximum(entropy(before) - (chance * entropy(after)).sum(axis=-1), 0.0),
        np.maximum((chance * then.worth).sum(axis=-1) - now.worth, 0.0),
        (chance * changed).sum(axis=-1),
    )


def worthwhile(bits: float, minutes: float) -> bool:
    """Whether a reading is worth its minutes."""
    table = cycle_readings()
    return bits >= table.least_bits and bits / minutes >= table.least_bits_per_minute


def next_of(
    names: tuple[str, ...], gained: Sequence[float], minutes: float, apart: tuple[str, ...]
) -> list[CycleNext]:
    """One entry for each of the readings that come together; gained: of each of ``Gains``."""
    bits, more, changes = gained
    return [CycleNext(name, bits, minutes, bits / minutes, apart, more, changes) for name in names]
