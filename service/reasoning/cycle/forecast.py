"""What a sound unit would read here and now, what this unit would read once repaired, and what the fault costs."""

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES, FAULT_LEVELS, LEVEL_MEASURES, SOUND
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.joint import Joint, select
from service.results.cycle import CycleLoss, CycleSeverity, Range

# Half of a central 90 % range in standard deviations.
NINETY = 1.645
FORECAST = READINGS[: READINGS.index("target_subcooling")]
NAMEPLATE = (READINGS.index("target_subcooling"), READINGS.index("target_superheat"))
SLIGHT, MODERATE = 1.0 / 3.0, 2.0 / 3.0


def mixed(weights: Array, mean: Array, variance: Array) -> tuple[Array, Array]:
    """Mean and standard deviation (w) of a mixture: weights (h, m), mean (h, m, w), variance (m, w)."""
    share = weights / weights.sum()
    centre = np.einsum("hm,hmw->w", share, mean)
    spread = np.einsum("hm,hmw->w", share, (mean - centre) ** 2 + variance)
    return centre, np.sqrt(np.maximum(spread, 0.0))


def sound_readings(joint: Joint, taken: gaussian.Taken, deviations: Array) -> dict[str, Range]:
    """Readings [90 % ranges, instruments included] of a sound unit with this nameplate, by name."""
    sound = select(joint, joint.label == CLASSES.index(SOUND))
    known = np.isin(taken.index, NAMEPLATE)
    plate = gaussian.Taken(taken.index[known], taken.values[known], _part(taken.noise, joint, known))
    fitted = gaussian.fit(sound.mean, sound.covariance, plate)
    wanted = np.arange(len(FORECAST))
    mean, covariance = gaussian.given(sound.mean, sound.covariance, plate, fitted, wanted)
    logs = sound.log_weight + fitted.log_likelihood
    weights = np.exp(logs - logs.max())  # readings far outside the population would all underflow
    centre, spread = mixed(weights, mean, np.diagonal(covariance, axis1=1, axis2=2))
    return ranges(FORECAST, centre, np.hypot(spread, deviations[: len(FORECAST)]))


def _part(noise: Array, joint: Joint, known: NDArray[np.bool_]) -> Array:
    chosen = joint.label == CLASSES.index(SOUND)
    return np.asarray(noise[chosen][:, known][:, :, known])


def repaired_readings(
    extended: Joint, weights: Array, taken: gaussian.Taken, deviations: Array
) -> dict[str, Range]:
    """Readings of this very unit once the fault is repaired, by today's readings and the baseline."""
    fitted = gaussian.fit(extended.mean, extended.covariance, taken)
    wanted = np.arange(extended.mean.shape[-1] - BASELINE_COUNT, extended.mean.shape[-1])
    mean, covariance = gaussian.given(extended.mean, extended.covariance, taken, fitted, wanted)
    mean = mean + extended.reference[:, :, :BASELINE_COUNT]
    centre, spread = mixed(weights, mean, np.diagonal(covariance, axis1=1, axis2=2))
    return ranges(READINGS[:BASELINE_COUNT], centre, np.hypot(spread, deviations[:BASELINE_COUNT]))


def ranges(names: tuple[str, ...], centre: Array, spread: Array) -> dict[str, Range]:
    """90 % ranges by name, the airflow back in m3/(s W)."""
    found = {}
    for name, middle, deviation in zip(names, centre, spread, strict=True):
        scale = AIRFLOW_PER_CAPACITY if name == "airflow_ratio" else 1.0
        key = "airflow_per_capacity" if name == "airflow_ratio" else name
        found[key] = span(float(middle) * scale, float(deviation) * scale)
    return found


def span(middle: float, deviation: float) -> Range:
    """The 90 % range of a normal quantity."""
    return Range(middle - NINETY * deviation, middle, middle + NINETY * deviation)


def severity_and_loss(
    name: str, weights: Array, mean: Array, covariance: Array
) -> tuple[CycleSeverity, CycleLoss]:
    """Size and cost of a fault by mean (h, m, 3) and covariance (m, 3, 3) of the hidden coordinates."""
    variance = np.diagonal(covariance, axis1=1, axis2=2)
    centre, spread = mixed(weights, mean, variance)
    efficiency = mean[:, :, 1:2] - mean[:, :, 2:3]
    both = variance[:, 1] + variance[:, 2] - 2.0 * covariance[:, 1, 2]
    ratio, ratio_spread = mixed(weights, efficiency, both[:, None])
    loss = CycleLoss(_ratio(centre[1], spread[1]), _ratio(centre[2], spread[2]), _ratio(ratio[0], ratio_spread[0]))
    return _severity(name, span(float(centre[0]), float(spread[0]))), loss


def _ratio(middle: float, deviation: float) -> Range:
    log = span(float(middle), float(deviation))
    return Range(float(np.exp(log.low)), float(np.exp(log.likely)), float(np.exp(log.high)))


def _severity(name: str, share: Range) -> CycleSeverity:
    low, high = FAULT_LEVELS[name]
    places = (min(max(value, 0.0), 1.0) for value in (share.low, share.likely, share.high))
    level = Range(*(low + (high - low) * place for place in places))
    grade = "slight" if share.likely < SLIGHT else "moderate" if share.likely < MODERATE else "severe"
    return CycleSeverity(grade, level, LEVEL_MEASURES[name])
