"""Questions made ready: components in play, readings taken, and Bayes' rule applied."""

from collections.abc import Sequence
from functools import cache
from math import prod

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_priors import cycle_priors
from service.knowledge.cycle_readings import cycle_readings
from service.physics.arrays import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.astray import with_one_astray
from service.reasoning.cycle.inputs import condition_nodes, noise
from service.reasoning.cycle.joint import EXPECTED, Frame, frame_of, setting_of, sound_columns, taken_of
from service.reasoning.cycle.posterior import Posterior, weigh
from service.reasoning.cycle.prior import event_log_likelihood, log_prior
from service.reasoning.cycle.question import Question
from service.reasoning.cycle.sharpen import sharpened
from service.results.record import Record


class Cases(Record):
    """Questions of one shape, judged together.

    frame: sharpened by their baselines; index (o): readings taken; reference (v, h, g, 14); log_weight (v, c+1, g,
    k, h): before today's readings, its leading axis as the frame's; log_evidence (v, c+1, g, k, h): after, all of
    them taken at their word; posterior: of at most one of them plainly wrong; astray (v, o): chance of each that
    it is; known (v): whether a baseline of the unit was used.
    """

    questions: Sequence[Question]
    frame: Frame
    index: NDArray[np.int64]
    reference: Array
    fitted: gaussian.Fit
    log_weight: Array
    log_evidence: Array
    posterior: Posterior
    astray: Array
    known: NDArray[np.bool_]

    @property
    def distance(self) -> Array:
        """Squared Mahalanobis distance (v) of the readings from the nearest component of any class."""
        return _nearest(self.fitted)


def prepare(questions: Sequence[Question]) -> Cases:
    """Apply Bayes' rule to questions of one shape (see ``Question``)."""
    conditions, nodes = condition_nodes([one.inputs.conditions for one in questions])
    frame, components, known = _components(questions, nodes.size)
    setting = setting_of(frame.reference, conditions)
    index = np.array(questions[0].read.index, dtype=np.int64)
    errors = noise(setting.slope, index, [one.read for one in questions])
    values = _possible(np.array([list(one.read.values.values()) for one in questions]), index)
    away = (values[:, None, None] - setting.reference.take(index, axis=3)).swapaxes(1, 2)
    fitted = gaussian.fit(components, gaussian.bordered(errors, away)[:, None, :, None], index.size)
    log_weight = frame.log_weight[..., None] + nodes
    log_evidence = log_weight + fitted.log_likelihood
    log_class = np.array([log_prior(one.inputs.history) for one in questions])
    log_events = np.array([event_log_likelihood(one.inputs.readings) for one in questions])
    forgiving, chances = with_one_astray(log_evidence, fitted, index, values)
    posterior = weigh(forgiving, log_class, log_events, exponent(_nearest(fitted), index.size))
    astray = np.einsum("vcgkh,vcgkho->vo", posterior.weights[:, :EXPECTED], chances)
    return Cases(
        questions, frame, index, setting.reference, fitted, log_weight, log_evidence, posterior, astray, known
    )


def _nearest(fitted: gaussian.Fit) -> Array:
    distance = fitted.distance[:, :EXPECTED]
    return np.asarray(distance.reshape(len(distance), -1).min(axis=-1))


def exponent(distance: Array, count: int) -> Array:
    """Exponent (v) on the likelihoods of readings, by their squared distance (v) from the nearest component: the
    less they fit any simulated unit, the less its widths are believed, and never more than at their word.

    How far a unit spreads about the simulated ones is not known: this is the inverse of that spread as its
    ``count`` readings tell it, beside as many as data/cycle_priors holds beforehand (so a Student t is weighed).
    """
    beforehand, usual = cycle_priors().fit_readings, cycle_priors().fit_usual * count
    return np.asarray((beforehand + usual) / (beforehand + np.maximum(distance, usual)))


def _possible(values: Array, index: NDArray[np.int64]) -> Array:
    """Readings (v, o) no smaller than what they measure can be, no larger than the largest simulated fault makes
    them: below only instruments err, above it is more of the same fault."""
    least, most = (every.take(index) for every in _possible_of_every_reading())
    return np.minimum(np.maximum(values, least), most)


@cache
def _possible_of_every_reading() -> tuple[Array, Array]:
    """Least and most of all 14 readings."""
    rows = [cycle_readings().rows[name] for name in READINGS]
    least = np.array([-np.inf if row.least is None else row.least for row in rows])
    return least, np.array([np.inf if row.most is None else row.most for row in rows])


def _components(questions: Sequence[Question], nodes: int) -> tuple[Frame, Array, NDArray[np.bool_]]:
    one = questions[0]
    frame = frame_of(*one.frame)
    baselines = [question.sound for question in questions if question.sound is not None]
    if not baselines:
        return frame, taken_of(*one.frame, one.read.index, nodes), np.zeros(len(questions), dtype=bool)
    frame, known = sharpened(frame, sound_columns(*one.frame), baselines)
    return frame, frame.taken(one.read.index, nodes), known


def picked(array: Array, axes: int, visits: NDArray[np.int64], places: NDArray[np.int64]) -> Array:
    """What stands at some places (v, n) of an array's axes after the first, taken as one.

    Parameters: axes: how many, the leading one included; visits (v): where on the leading axis, unless they share
    it.
    """
    if len(array) == 1 and axes == 2:
        return np.asarray(array[0].take(places, axis=0))
    each = prod(array.shape[1:axes])
    flat = array.reshape(len(array) * each, *array.shape[axes:])
    if len(array) > 1:
        places = places + each * visits[:, None]
    return flat.take(places, axis=0)
