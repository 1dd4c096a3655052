"""Sharpening by a baseline: what the same unit read when sound tells where it stands within the population."""

from collections.abc import Sequence

import numpy as np

from service.physics.arrays import Array
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.inputs import condition_nodes, noise
from service.reasoning.cycle.joint import COUNT, EXPECTED, HIDDEN, Frame, framed, setting_of
from service.reasoning.cycle.question import Sound


def sharpened(frame: Frame, columns: Array, baselines: Sequence[Sound]) -> Frame:
    """Condition every component on a baseline visit; one for each visit, with the same readings taken.

    columns: see ``sound_columns``. Each hypothesis has its own reference, so the residuals differ between them.
    """
    conditions, _ = condition_nodes([one.conditions for one in baselines])
    setting = setting_of(frame.reference, conditions)
    taken = np.array(baselines[0].read.index, dtype=np.int64)
    values = np.array([list(one.read.values.values()) for one in baselines])
    away = (values[:, None, None] - setting.reference[..., taken]).swapaxes(1, 2)
    errors = noise(setting.slope, taken, [one.read for one in baselines])
    across = columns[..., taken]
    components = gaussian.components_of(
        across[..., COUNT + HIDDEN + taken, :], frame.other[:, :EXPECTED, ..., HIDDEN + taken], 1
    )
    fitted = gaussian.fit(components, gaussian.bordered(errors, away)[:, None, :, None], taken.size)
    solved = np.linalg.solve(fitted.total, across.swapaxes(-1, -2))
    readings, others = solved[..., :COUNT], solved[..., COUNT:].swapaxes(-1, -2)
    moved = (fitted.difference @ solved)[..., 0, :]
    return framed(
        log_weight=frame.log_weight[:, :EXPECTED] + fitted.log_likelihood[..., 0],
        residual=frame.residual[:, :EXPECTED] + moved[..., :COUNT],
        covariance=frame.covariance[:, :EXPECTED] - across[..., :COUNT, :] @ readings,
        other=frame.other[:, :EXPECTED] + moved[..., COUNT:],
        across=frame.across[:, :EXPECTED] - across[..., COUNT:, :] @ readings,
        variance=frame.variance[:, :EXPECTED] - (across[..., COUNT:, :] * others).sum(axis=-1),
        reference=frame.reference,
    )
