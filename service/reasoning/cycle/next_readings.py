"""Which reading to take next, and when to stop."""

import numpy as np

from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gain, gaussian
from service.reasoning.cycle.apart import Apart
from service.reasoning.cycle.case import Cases, picked
from service.reasoning.cycle.joint import EXPECTED
from service.reasoning.cycle.prior import EVENTS
from service.results.cycle import CycleNext


def next_readings(cases: Cases) -> list[tuple[CycleNext, ...]]:
    """Readings and tests worth their minutes, for each visit, best first; empty: stop reading."""
    settled = {*cases.questions[0].read.values, *cases.questions[0].left_out}
    offered = gain.offer(tuple(name for name in READINGS if name not in settled))
    predicted = predict(cases, offered)
    bits = gain.gains(predicted, offered).tolist()
    found = _tests(cases)
    for at, one in enumerate(found):
        one.extend(_worthwhile(predicted, at, offered, bits[at]))
    return [tuple(sorted(one, key=lambda item: -item.bits_per_minute)) for one in found]


def _worthwhile(predicted: gain.Predicted, at: int, offered: gain.Offer, bits: list[float]) -> list[CycleNext]:
    each = zip(offered.candidates, bits, strict=True)
    worth = [(one, gained) for one, gained in each if gain.worthwhile(gained, one.minutes)]
    if not worth:
        return []
    apart = Apart(predicted, at)
    return [
        entry
        for one, gained in worth
        for entry in gain.next_of(one.names, gained, one.minutes, apart.told_by(one.columns))
    ]


def predict(cases: Cases, offered: gain.Offer) -> gain.Predicted:
    """What the leading components predict for the readings offered, at the likeliest humidity of each visit."""
    weights = cases.posterior.weights[:, :EXPECTED]
    count, _, hypotheses, components, nodes = weights.shape
    by_node = weights.reshape(count, -1, nodes)
    node = by_node.sum(axis=1).argmax(axis=-1)[:, None]
    leading = gain.leading(by_node.sum(axis=-1).tolist(), hypotheses * components)
    chosen, wanted = leading.index, offered.wanted
    covariance = picked(cases.frame.covariance, 4, count, chosen).take(wanted, axis=-2)
    total = picked(cases.fitted.total, 4, count, chosen)
    across = gaussian.whitened(total, covariance.take(cases.index, axis=-1))
    white = picked(cases.fitted.white, 5, count, chosen * nodes + node)
    mean = picked(cases.frame.residual, 4, count, chosen)
    mean += picked(cases.reference, 3, count, node * hypotheses + chosen // components % hypotheses)
    left = covariance.take(wanted, axis=-1) - across @ across.swapaxes(-1, -2)
    errors = np.array([one.read.instruments for one in cases.questions]).take(wanted, axis=-1)
    gaussian.diagonal(left)[...] += (errors * errors)[:, None]
    return gain.Predicted(leading, mean.take(wanted, axis=-1) + (across @ white[..., None])[..., 0], left)


def _tests(cases: Cases) -> list[list[CycleNext]]:
    found: list[list[CycleNext]] = [[] for _ in cases.questions]
    pump_down = gain.event_gain(cases.posterior.classes, EVENTS).tolist()
    for one, question, bits in zip(found, cases.questions, pump_down, strict=True):
        if all(getattr(question.inputs.readings, name) is None for name in EVENTS):
            one.extend(_test("pump_down", bits, ("compressor_not_pumping",)))
    if cases.questions[0].inputs.conditions.return_wet_bulb is None:
        by_node = cases.posterior.weights[:, :EXPECTED].sum(axis=(2, 3)).swapaxes(1, 2)
        for one, bits in zip(found, gain.humidity_gain(by_node).tolist(), strict=True):
            one.extend(_test("return_wet_bulb", bits, ()))
    return found


def _test(name: str, bits: float, apart: tuple[str, ...]) -> list[CycleNext]:
    minutes = cycle_readings().rows[name].minutes
    return gain.next_of((name,), bits, minutes, apart) if gain.worthwhile(bits, minutes) else []
