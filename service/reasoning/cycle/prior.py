"""The prior of a visit: shares of the causes, changed by what was said and seen."""

from functools import lru_cache

import numpy as np

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_priors import cycle_priors
from service.knowledge.cycle_readings import cycle_readings
from service.physics.arrays import Array
from service.results.cycle import CycleHistory, CycleReadings

AT_ONCE_DAYS = 2.0
EVENTS = ("pump_down_pulls", "pump_down_holds")


def log_prior(history: CycleHistory) -> Array:
    """Natural logarithm of the prior by class, summing to 1."""
    return _log_prior(tuple(_codes(history)))


def prior_by_class(history: CycleHistory) -> dict[str, float]:
    """The prior as probabilities by class."""
    return dict(zip(CLASSES, np.exp(log_prior(history)).tolist(), strict=True))


def event_log_likelihood(readings: CycleReadings) -> Array:
    """Natural logarithm by class of the chance of the yes-or-no tests made."""
    return _event_log_likelihood(tuple(getattr(readings, name) for name in EVENTS))


@lru_cache(maxsize=256)
def _log_prior(codes: tuple[str, ...]) -> Array:
    table = cycle_priors()
    shares = np.array([table.shares[name] for name in CLASSES])
    for code in codes:
        factors = table.factors.get(code, {})
        shares = shares * np.array([_factor(factors, name) for name in CLASSES])
    return _kept(np.log(shares / shares.sum()))


@lru_cache
def _event_log_likelihood(happened: tuple[bool | None, ...]) -> Array:
    total = np.zeros(len(CLASSES))
    for name, one in zip(EVENTS, happened, strict=True):
        if one is not None:
            chances = np.array(cycle_readings().chances[name])
            total = total + np.log(chances if one else 1.0 - chances)
    return _kept(total)


def _kept(values: Array) -> Array:
    # Every later question shares it.
    values.flags.writeable = False
    return values


def _codes(history: CycleHistory) -> list[str]:
    codes = [f"symptom.{name}" for name in history.symptoms]
    codes += [f"observation.{name}" for name in history.observations]
    codes += ["history.recent_work"] * history.recent_work
    codes += ["history.charge_added_recently"] * history.charge_added_recently
    if history.days_since_ok is not None and history.days_since_ok <= AT_ONCE_DAYS:
        codes.append("history.failed_at_once")
    return codes


def _factor(factors: dict[str, float], name: str) -> float:
    product = 1.0
    for part in name.split("+"):
        product *= factors.get(part, 1.0)
    return product
