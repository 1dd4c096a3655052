"""What a sound unit would read here and now, how large the likeliest fault is, and what would be read without
it.
"""

from collections.abc import Sequence
from math import hypot

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle.case import Cases, picked
from service.reasoning.cycle.close import EXPECTATION, FAULT, Close
from service.reasoning.cycle.gaussian import squares
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.joint import HIDDEN
from service.results.cycle import Range

# Half of a central 90 % range in standard deviations.
NINETY = 1.645
FORECAST = READINGS[: READINGS.index("target_subcooling")]
# Components that carry less than this share of a fault change nothing; of an expectation, every one counts.
LEAST_SHARE = np.array([0.0, 0.01])[:, None, None, None]
_LEAST = 1e-300
_BOTH = slice(EXPECTATION, FAULT + 1)
_AIRFLOW = "airflow_ratio"
_NAMES = {name: "airflow_per_capacity" if name == _AIRFLOW else name for name in READINGS}


def forecast(cases: Cases, close: Close) -> tuple[Array, Array]:
    """Mean and standard deviation (v, 2, 14), free of instruments' errors, of the other coordinates (see
    ``joint``): of EXPECTED by the nameplate and of the likeliest fault by all readings.
    """
    visits, classes, frame = np.arange(len(close.classes)), close.classes[:, _BOTH], cases.frame
    across = picked(frame.across, 2, visits, classes)[..., cases.index] @ close.whitening[:, _BOTH]
    mean = picked(frame.other, 2, visits, classes)[..., None, :] + close.white[:, _BOTH] @ across.swapaxes(-1, -2)
    reference = cases.reference.swapaxes(1, 2)[:, :, None]
    mean[:, EXPECTATION] += reference
    mean[:, FAULT, ..., HIDDEN:] += reference[..., :BASELINE_COUNT]
    variance = picked(frame.variance, 2, visits, classes) - squares(across)
    weights = picked(cases.posterior.weights, 2, visits, classes)
    share = weights.sum(axis=-1, keepdims=True)
    worth = share >= LEAST_SHARE * share.sum(axis=(2, 3), keepdims=True)
    return mixed(weights * worth, mean, variance)


def mixed(weights: Array, mean: Array, variance: Array) -> tuple[Array, Array]:
    """Mean and standard deviation (v, n, w) of mixtures: weights (v, n, g, k, h), mean (v, n, g, k, h, w),
    variance (v, n, g, k, w).
    """
    visits, count, wanted = *weights.shape[:2], mean.shape[-1]
    share = weights.reshape(visits, count, 1, -1)
    # A fault that nothing speaks for may have no weight left; what is said of it then is not told.
    share = share / np.maximum(share.sum(axis=-1, keepdims=True), _LEAST)
    centre = share @ mean.reshape(visits, count, -1, wanted)
    away = (mean - centre[:, :, None, None]) ** 2 + variance[..., None, :]
    spread = share @ away.reshape(visits, count, -1, wanted)
    return centre[:, :, 0], np.sqrt(np.maximum(spread[:, :, 0], 0.0))


def ranges(
    names: Sequence[str], centre: Sequence[float], spread: Sequence[float], instruments: Sequence[float]
) -> dict[str, Range]:
    """90 % ranges by name, the errors of instruments included, the airflow back in m3/(s W)."""
    found = {}
    for name, middle, deviation, error in zip(names, centre, spread, instruments, strict=False):
        scale = AIRFLOW_PER_CAPACITY if name == _AIRFLOW else 1.0
        found[_NAMES[name]] = span(middle * scale, hypot(deviation, error) * scale)
    return found


def span(middle: float, deviation: float) -> Range:
    """The 90 % range of a normal quantity."""
    return Range(middle - NINETY * deviation, middle, middle + NINETY * deviation)


def public_name(name: str) -> str:
    """Name of a reading in the verdict."""
    return _NAMES[name]
