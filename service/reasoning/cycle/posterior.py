"""Bayes' rule over classes, components, hypotheses and humidity nodes."""

from dataclasses import dataclass

import numpy as np

from service.knowledge.cycle_model import CLASSES, COMPONENTS, PAIRS, SOUND
from service.physics.cycle.fluid import Array
from service.reasoning.cycle.gaussian import log_sum
from service.reasoning.cycle.joint import Joint

CAUSES = tuple(name for name in CLASSES if name not in PAIRS)


@dataclass(frozen=True)
class Posterior:
    """weights (h, m) of nodes and components, summing to 1; classes: probability and log-likelihood by class."""

    weights: Array
    classes: Array
    log_likelihood: Array


def weigh(joint: Joint, log_likelihood: Array, log_class: Array, log_events: Array) -> Posterior:
    """Posterior of log-likelihoods (h, m), the prior and the yes-or-no tests by class."""
    evidence = joint.log_weight + log_likelihood
    by_class = class_sums(evidence[..., None])[:, 0] + log_events
    logs = evidence + (log_class + log_events)[joint.label]
    weights = np.exp(logs - log_sum(logs, (0, 1)))
    classes = np.bincount(joint.label, weights.sum(axis=0), minlength=len(CLASSES))
    return Posterior(np.asarray(weights), classes.astype(np.float64), by_class)


def class_sums(logs: Array) -> Array:
    """Log of the sum over nodes and components (h, m, o) for each class: (classes, o).

    Every hypothesis stacks its components by class, so classes are an axis once the stack is unfolded.
    """
    nodes, count, wanted = logs.shape
    unfolded = logs.reshape(nodes, count // (len(CLASSES) * COMPONENTS), len(CLASSES), COMPONENTS, wanted)
    return log_sum(unfolded, (0, 1, 3))


def cause_probabilities(classes: Array) -> list[tuple[str, float]]:
    """Probability of each single cause, a pair counted half to each of its two, descending."""
    total = dict.fromkeys(CAUSES, 0.0)
    for name, probability in zip(CLASSES, classes, strict=True):
        parts = name.split("+")
        for part in parts:
            total[part] += float(probability) / len(parts)
    return sorted(total.items(), key=lambda item: -item[1])


def pair_probabilities(classes: Array) -> tuple[tuple[str, str, float], ...]:
    """Probability of each pair of faults at once, descending."""
    found = []
    for name in PAIRS:
        first, second = name.split("+")
        found.append((first, second, float(classes[CLASSES.index(name)])))
    return tuple(sorted(found, key=lambda pair: -pair[2]))


def sound_probability(classes: Array) -> float:
    """Probability of a sound unit."""
    return float(classes[CLASSES.index(SOUND)])
