"""Which reading to take next, and when to stop."""

import numpy as np

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gain, gaussian
from service.reasoning.cycle.case import Case
from service.reasoning.cycle.joint import select
from service.reasoning.cycle.prior import EVENTS
from service.results.cycle import CycleNext


def next_readings(case: Case, instruments: Array) -> tuple[CycleNext, ...]:
    """Readings and tests worth their minutes, best first; empty: stop reading."""
    missing = tuple(name for at, name in enumerate(READINGS) if at not in set(case.taken.index.tolist()))
    predicted = predict(case, instruments)
    found: list[CycleNext] = []
    for candidate in gain.candidates(missing):
        bits = gain.reading_gain(predicted, candidate.index)
        apart = gain.tells_apart(predicted, candidate.index)
        found += gain.next_of(candidate.names, bits, candidate.minutes, apart)
    return gain.ranked(found + _tests(case), cycle_readings())


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
    rows, found = cycle_readings().rows, []
    untried = tuple(name for name in EVENTS if getattr(case.inputs.readings, name) is None)
    if len(untried) == len(EVENTS):
        bits = gain.event_gain(case.posterior.classes, untried)
        found += gain.next_of(("pump_down",), bits, rows["pump_down"].minutes, ("compressor_not_pumping",))
    if case.inputs.conditions.return_wet_bulb is None:
        member = np.eye(len(CLASSES))[case.joint.label]
        bits = gain.humidity_gain(case.posterior.weights @ member)
        found += gain.next_of(("return_wet_bulb",), bits, rows["return_wet_bulb"].minutes, ())
    return found
