"""Which reading to take next, and when to stop."""

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gain, gaussian
from service.reasoning.cycle.apart import Apart
from service.reasoning.cycle.case import Cases, picked
from service.reasoning.cycle.joint import EXPECTED
from service.reasoning.cycle.prior import EVENTS
from service.results.cycle import CycleNext
from service.results.record import Record

# Visits whose numbers of leading components differ by less are judged together.
STEP = 5


def next_readings(cases: Cases) -> list[tuple[CycleNext, ...]]:
    """Readings and tests worth their minutes, for each visit, best first; empty: stop reading."""
    settled = {*cases.questions[0].read.values, *cases.questions[0].left_out}
    offered = gain.offer(tuple(name for name in READINGS if name not in settled))
    found = _tests(cases)
    for visits in alike(cases):
        predicted = predict(cases, offered, visits)
        gains = gain.gains(predicted, offered)
        for place, at in enumerate(visits.at):
            found[at].extend(_worthwhile(predicted, place, offered, gains.of(place)))
    return [tuple(sorted(one, key=lambda item: -item.bits_per_minute)) for one in found]


class Alike(Record):
    """Visits with about as many leading components each: their places, likeliest humidity node (v, 1),
    components.
    """

    at: list[int]
    node: NDArray[np.int64]
    leading: gain.Leading


def alike(cases: Cases) -> list[Alike]:
    """Visits by their number of leading components, so that those with few need not carry as many as the rest."""
    weights = cases.posterior.weights[:, :EXPECTED]
    count, _, hypotheses, components, nodes = weights.shape
    by_node = weights.reshape(count, -1, nodes)
    node = by_node.sum(axis=1).argmax(axis=-1)[:, None]
    every = by_node.sum(axis=-1).tolist()
    chosen = [gain.worth_carrying(one) for one in every]
    lots: dict[int, list[int]] = {}
    for at, one in enumerate(chosen):
        lots.setdefault(len(one) // STEP, []).append(at)
    return [
        Alike(
            lot,
            node[lot],
            gain.leading([chosen[at] for at in lot], [every[at] for at in lot], hypotheses * components),
        )
        for lot in lots.values()
    ]


def _worthwhile(
    predicted: gain.Predicted, at: int, offered: gain.Offer, gains: list[list[float]]
) -> list[CycleNext]:
    each = zip(offered.candidates, gains, strict=True)
    worth = [(one, gained) for one, gained in each if gain.worthwhile(gained[0], one.minutes)]
    if not worth:
        return []
    apart = Apart(predicted, at)
    return [
        entry
        for one, gained in worth
        for entry in gain.next_of(one.names, gained, one.minutes, apart.told_by(one.columns))
    ]


def predict(cases: Cases, offered: gain.Offer, visits: Alike) -> gain.Predicted:
    """What the leading components predict for the readings offered, at the likeliest humidity of each visit."""
    hypotheses, components, nodes = cases.posterior.weights.shape[2:]
    at, chosen, wanted = np.array(visits.at), visits.leading.index, offered.wanted
    covariance = picked(cases.frame.covariance, 4, at, chosen).take(wanted, axis=-2)
    across = covariance.take(cases.index, axis=-1) @ picked(cases.fitted.whitening, 4, at, chosen)
    white = picked(cases.fitted.white, 5, at, chosen * nodes + visits.node)
    mean = picked(cases.frame.residual, 4, at, chosen)
    mean += picked(cases.reference, 3, at, visits.node * hypotheses + chosen // components % hypotheses)
    left = covariance.take(wanted, axis=-1) - across @ across.swapaxes(-1, -2)
    errors = np.array([cases.questions[place].read.instruments for place in visits.at]).take(wanted, axis=-1)
    gaussian.diagonal(left)[...] += (errors * errors)[:, None]
    return gain.Predicted(visits.leading, mean.take(wanted, axis=-1) + (across @ white[..., None])[..., 0], left)


def _tests(cases: Cases) -> list[list[CycleNext]]:
    found: list[list[CycleNext]] = [[] for _ in cases.questions]
    pump_down = gain.event_gain(cases.posterior.classes, EVENTS)
    for at, question in enumerate(cases.questions):
        if all(getattr(question.inputs.readings, name) is None for name in EVENTS):
            found[at].extend(_test("pump_down", pump_down.of(at), ("compressor_not_pumping",)))
    if cases.questions[0].inputs.conditions.return_wet_bulb is None:
        by_node = cases.posterior.weights[:, :EXPECTED].sum(axis=(2, 3)).swapaxes(1, 2)
        humidity = gain.humidity_gain(by_node)
        for at, one in enumerate(found):
            one.extend(_test("return_wet_bulb", humidity.of(at), ()))
    return found


def _test(name: str, gained: list[float], apart: tuple[str, ...]) -> list[CycleNext]:
    minutes = cycle_readings().rows[name].minutes
    return gain.next_of((name,), gained, minutes, apart) if gain.worthwhile(gained[0], minutes) else []
