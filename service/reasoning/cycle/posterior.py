"""Bayes' rule over classes, components, hypotheses and humidity nodes."""

from collections.abc import Sequence

import numpy as np

from service.knowledge.cycle_model import CLASSES, PAIRS
from service.knowledge.cycle_priors import cycle_priors
from service.physics.arrays import Array
from service.results.record import Record

CAUSES = tuple(name for name in CLASSES if name not in PAIRS)
_PLACES = tuple(tuple(CAUSES.index(part) for part in name.split("+")) for name in CLASSES)
_PAIR_PLACES = tuple(CLASSES.index(name) for name in PAIRS)


class Posterior(Record):
    """weights (v, c+1, g, k, h), over all classes summing to 1, and behind them those of EXPECTED (see ``joint``),
    again summing to 1; by class (v, c): probability, and logarithm of what readings and tests made of
    the prior; of_readings (v, c+1): log-likelihood of
    the readings alone.
    """

    weights: Array
    classes: Array
    log_likelihood: Array
    of_readings: Array


def weigh(evidence: Array, log_class: Array, log_events: Array, temper: Array) -> Posterior:
    """Posterior of evidence (v, c+1, g, k, h): log-likelihoods with the weights of components; the prior and the
    yes-or-no tests by class (v, c). temper (v), above 0: exponent on the likelihood of the readings.

    Simulated likelihoods are not believed whole: some of the posterior stays at the prior (data/cycle_priors).
    """
    visits, places = evidence.shape[:2]
    flat = evidence.reshape(visits, places, -1)
    top = flat.max(axis=-1, keepdims=True)
    within = np.exp(flat - top)
    total = within.sum(axis=-1, keepdims=True)
    of_readings = (top + np.log(total))[..., 0]
    by_class = temper[:, None] * of_readings[:, : len(CLASSES)] + log_events
    believed = _normal(by_class + log_class)
    doubted = cycle_priors().unmodelled
    classes = (1.0 - doubted) * believed + doubted * _normal(log_class)
    chance = np.ones((visits, places))
    chance[:, : len(CLASSES)] = classes
    weights = within * (chance[..., None] / total)
    return Posterior(weights.reshape(evidence.shape), classes, np.log(classes) - log_class, of_readings)


def _normal(logs: Array) -> Array:
    """Shares (v, c) of logarithms."""
    shares = np.exp(logs - logs.max(axis=-1, keepdims=True))
    return np.asarray(shares / shares.sum(axis=-1, keepdims=True))


def cause_probabilities(classes: Sequence[float]) -> list[tuple[str, float]]:
    """Probability of each single cause, descending; a pair counts to its two by how surely each of them is there.

    Of two faults at once the one that is there in any case comes first, whatever else may be there besides.
    """
    present = [0.0] * len(CAUSES)
    for places, probability in zip(_PLACES, classes, strict=True):
        for place in places:
            present[place] += float(probability)
    total = [0.0] * len(CAUSES)
    for places, probability in zip(_PLACES, classes, strict=True):
        of_all = sum(present[place] for place in places)
        for place in places:
            total[place] += float(probability) * (present[place] / of_all if of_all else 1.0 / len(places))
    return sorted(zip(CAUSES, total, strict=True), key=lambda item: -item[1])


def pair_probabilities(classes: Sequence[float]) -> tuple[tuple[str, str, float], ...]:
    """Probability of each pair of faults at once, descending."""
    found = [(*_two(CLASSES[at]), float(classes[at])) for at in _PAIR_PLACES]
    return tuple(sorted(found, key=lambda pair: -pair[2]))


def _two(name: str) -> tuple[str, str]:
    first, second = name.split("+")
    return first, second
