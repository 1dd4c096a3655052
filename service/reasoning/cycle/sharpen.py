"""Sharpening by a baseline: what the same unit read when sound tells where it stands within the population."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from service.physics.arrays import Array
from service.reasoning.cycle import gaussian
from service.reasoning.cycle.gaussian import log_sum
from service.reasoning.cycle.inputs import condition_nodes, noise
from service.reasoning.cycle.joint import COUNT, EXPECTED, HIDDEN, SOUND_CLASS, Frame, framed, setting_of
from service.reasoning.cycle.question import Sound
from service.reasoning.cycle.rare import rare_distance
from service.results.record import fields


def sharpened(frame: Frame, columns: Array, baselines: Sequence[Sound]) -> tuple[Frame, NDArray[np.bool_]]:
    """Condition every component on a baseline visit; one for each visit, with the same readings taken.

    columns: see ``sound_columns``. Each hypothesis has its own reference, so the residuals differ between them.
    Returns the frame, and of each visit whether its baseline is like any simulated sound unit's: one that is not
    (a misprint, a gauge that was not zeroed) changes nothing.

    How a unit reads when sound says nothing of what is wrong with it today, so every class keeps its whole weight:
    the baseline moves weight between the units of a class alone.
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
    nearest = fitted.distance[:, SOUND_CLASS].reshape(len(baselines), -1).min(axis=-1)
    alike = nearest <= rare_distance(taken.size)
    log_weight = frame.log_weight[:, :EXPECTED] + fitted.log_likelihood[..., 0]
    by_class = log_sum(log_weight.reshape(*log_weight.shape[:2], -1), -1)
    solved = np.linalg.solve(fitted.total, across.swapaxes(-1, -2))
    readings, others = solved[..., :COUNT], solved[..., COUNT:].swapaxes(-1, -2)
    moved = (fitted.difference @ solved)[..., 0, :]
    known = framed(
        log_weight=log_weight - by_class[..., None, None],
        residual=frame.residual[:, :EXPECTED] + moved[..., :COUNT],
        covariance=frame.covariance[:, :EXPECTED] - across[..., :COUNT, :] @ readings,
        other=frame.other[:, :EXPECTED] + moved[..., COUNT:],
        across=frame.across[:, :EXPECTED] - across[..., COUNT:, :] @ readings,
        variance=frame.variance[:, :EXPECTED] - (across[..., COUNT:, :] * others).sum(axis=-1),
        reference=frame.reference,
    )
    return (known if alike.all() else _kept_apart(frame, known, alike)), alike


def _kept_apart(frame: Frame, known: Frame, alike: NDArray[np.bool_]) -> Frame:
    """The sharpened frame of the visits whose baseline is used, the frame as it was of the others."""

    def chosen(name: str) -> Array:
        before, after = getattr(frame, name), getattr(known, name)
        return np.asarray(np.where(alike.reshape(-1, *(1,) * (after.ndim - 1)), after, before))

    names = (item.name for item in fields(frame) if item.name != "reference")
    return Frame(**{name: chosen(name) for name in names}, reference=frame.reference)
