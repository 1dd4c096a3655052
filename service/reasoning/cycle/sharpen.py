"""Sharpening by a baseline: what the same unit read when sound tells where it stands within the population."""

from dataclasses import replace

import numpy as np

from service.physics.cycle.fluid import Array
from service.physics.cycle.reference import design_matrix, slopes
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.inputs import Read, noise
from service.reasoning.cycle.joint import COUNT, Joint


def baseline_taken(joint: Joint, conditions: Array, taken: Read) -> gaussian.Taken:
    """Residuals of a baseline visit as readings of the extended joint (see ``extended``).

    Parameters: conditions (1, 4) and readings of the baseline visit. Each component has its own reference, so the
    residuals differ between components.
    """
    expected = joint.coefficients[:, taken.index, :] @ design_matrix(conditions)[0]
    slope = joint.coefficients @ slopes(conditions)[0]
    index = taken.index + joint.mean.shape[-1]
    return gaussian.Taken(index, taken.values - expected, noise(slope, taken))


def extended(joint: Joint) -> Joint:
    """The joint with the residuals of the same unit when sound as ten more coordinates."""
    across = joint.covariance[:, :, :COUNT] @ joint.sound_slope.transpose(0, 2, 1)
    own = joint.sound_slope @ across[:, :COUNT] + joint.sound_spread
    top = np.concatenate([joint.covariance, across], axis=2)
    bottom = np.concatenate([across.transpose(0, 2, 1), own], axis=2)
    sound = np.broadcast_to(joint.sound_mean, (*joint.log_weight.shape, joint.sound_mean.shape[-1]))
    return replace(
        joint, mean=np.concatenate([joint.mean, sound], axis=2), covariance=np.concatenate([top, bottom], axis=1)
    )


def absorb(joint: Joint, taken: gaussian.Taken, size: int) -> Joint:
    """Condition every component on readings and keep the first ``size`` coordinates."""
    fitted = gaussian.fit(joint.mean, joint.covariance, taken)
    mean, covariance = gaussian.given(joint.mean, joint.covariance, taken, fitted, np.arange(size))
    return replace(joint, mean=mean, covariance=covariance, log_weight=joint.log_weight + fitted.log_likelihood)
