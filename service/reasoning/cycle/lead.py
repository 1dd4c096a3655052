"""The leading fault: its size, what it costs, and what the unit would read once it is repaired."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from service.knowledge.cycle_model import CLASSES, SOUND
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.case import Case
from service.reasoning.cycle.forecast import repaired_readings, severity_and_loss
from service.reasoning.cycle.joint import HIDDEN, select
from service.reasoning.cycle.sharpen import extended
from service.results.cycle import CycleLoss, CycleSeverity, Range

# Components of the leading fault that carry less than this share of it change nothing.
LEAST_SHARE = 0.01


@dataclass(frozen=True)
class LeadFault:
    """The likeliest fault, even where a sound unit is likelier still."""

    name: str
    severity: CycleSeverity | None = None
    loss: CycleLoss | None = None
    repaired: Mapping[str, Range] = field(default_factory=dict)


def lead_fault(case: Case, causes: list[tuple[str, float]], instruments: Array) -> LeadFault:
    """Describe the likeliest fault by the components that make it up."""
    name = next(cause for cause, _ in causes if cause != SOUND)
    if causes[0][0] == SOUND or not case.taken.index.size:
        return LeadFault(name)
    member = case.joint.label == CLASSES.index(name)
    share = case.posterior.weights.sum(axis=0) * member
    member &= share > LEAST_SHARE * share.sum()
    weights = case.posterior.weights[:, member]
    part = select(case.sharpened, member)
    taken = _chosen(case.taken, member)
    hidden = np.arange(len(READINGS), len(READINGS) + HIDDEN)
    fitted = gaussian.fit(part.mean, part.covariance, taken)
    severity, loss = severity_and_loss(
        name, weights, *gaussian.given(part.mean, part.covariance, taken, fitted, hidden)
    )
    full = extended(select(case.joint, member))
    both = taken if case.baseline is None else _together(_chosen(case.baseline, member), taken)
    return LeadFault(name, severity, loss, repaired_readings(full, weights, both, instruments))


def _chosen(taken: gaussian.Taken, member: Array) -> gaussian.Taken:
    values = taken.values[member] if taken.values.ndim == 2 else taken.values
    return gaussian.Taken(taken.index, values, taken.noise[member])


def _together(first: gaussian.Taken, second: gaussian.Taken) -> gaussian.Taken:
    count, total = first.index.size, first.index.size + second.index.size
    noise = np.zeros((first.noise.shape[0], total, total))
    noise[:, :count, :count] = first.noise
    noise[:, count:, count:] = second.noise
    values = np.broadcast_to(second.values, (noise.shape[0], second.index.size))
    return gaussian.Taken(
        np.concatenate([first.index, second.index]), np.concatenate([first.values, values], axis=1), noise
    )
