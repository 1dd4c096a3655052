"""Which reading to take next, and when to stop."""

import numpy as np

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gain, gaussian
from service.reasoning.cycle.case import Case, left_out
from service.reasoning.cycle.joint import select
from service.reasoning.cycle.prior import EVENTS
from service.results.cycle import CycleNext


def next_readings(case: Case, instruments: Array) -> tuple[CycleNext, ...]:
    """Readings and tests worth their minutes, best first; empty: stop reading."""
    settled = {*case.values, *left_out(case.inputs)}
    missing = tuple(name for name in READINGS if name not in settled)
    predicted = predict(case, instruments)
    offered = gain.candidates(missing)
    found = _tests(case)
    for candidate, bits in zip(offered, gain.gains(predicted, offered), strict=True):
        if gain.worthwhile(bits, candidate.minutes):
            apart = gain.tells_apart(predicted, candidate.index)
            found += gain.next_of(candidate.names, bits, candidate.minutes, apart)
    return tuple(sorted(found, key=lambda item: -item.bits_per_minute))


def predict(case: Case, instruments: Array) -> gain.Predicted:
    """What the leading components predict for every reading, at the likeliest humidity."""
    node = int(case.posterior.weights.sum(axis=1).argmax())
    total = case.posterior.weights.sum(axis=0)
    chosen = gain.leading(total)
    part = select(case.sharpened, chosen)
    taken = gaussian.Taken(case.taken.index, case.taken.values, case.taken.noise[chosen])
    fitted = gaussian.fit(part.mean[node : node + 1], part.covariance, taken)
    every = np.arange(len(READINGS))
    mean, covariance = gaussian.given(part.mean[node : node + 1], part.covariance, taken, fitted, every)
    weights = total[chosen] / total[chosen].sum()
    return gain.Predicted(weights, part.label, mean[0], covariance + np.diag(instruments**2))


def _tests(case: Case) -> list[CycleNext]:
    found: list[CycleNext] = []
    if all(getattr(case.inputs.readings, name) is None for name in EVENTS):
        bits = gain.event_gain(case.posterior.classes, EVENTS)
        found += _test("pump_down", bits, ("compressor_not_pumping",))
    if case.inputs.conditions.return_wet_bulb is None:
        member = np.eye(len(CLASSES))[case.joint.label]
        found += _test("return_wet_bulb", gain.humidity_gain(case.posterior.weights @ member), ())
    return found


def _test(name: str, bits: float, apart: tuple[str, ...]) -> list[CycleNext]:
    minutes = cycle_readings().rows[name].minutes
    return gain.next_of((name,), bits, minutes, apart) if gain.worthwhile(bits, minutes) else []
