"""Stacked mixture components of every hypothesis in play, in absolute readings at the present conditions.

A hypothesis is a kind of metering and an efficiency class where the request does not state them. Axes: h humidity
nodes, m components, 17 coordinates (14 readings, then place in the range of fault size, ln capacity, ln power).
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import CLASSES, EFFICIENCIES, CycleTables
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.physics.cycle.reference import design_matrix, slopes

COUNT = len(READINGS)
HIDDEN = 3
# Chance of each efficiency class where the request does not say; a choice of this project.
EFFICIENCY_SHARES = (0.6, 0.4)


@dataclass(frozen=True)
class Joint:
    """label (m): class of each component; log_weight (h, m), mean (h, m, 17), covariance (m, 17, 17).

    slope (m, 14, 3): of the healthy reference in outdoor, return dry and return wet bulb; reference (h, m, 14);
    sound_mean (m, 10), sound_slope (m, 10, 14), sound_spread (m, 10, 10): residuals of the unit when sound;
    hypothesis (m); coefficients (m, 14, 11) of the healthy reference.
    """

    label: NDArray[np.int64]
    log_weight: Array
    mean: Array
    covariance: Array
    slope: Array
    reference: Array
    sound_mean: Array
    sound_slope: Array
    sound_spread: Array
    hypothesis: NDArray[np.int64]
    coefficients: Array


def build_joint(
    tables: tuple[CycleTables, ...], efficiency: str | None, conditions: Array, node_weights: Array
) -> Joint:
    """Stack the components of tables and efficiency classes.

    Parameters: tables: one for each kind of metering in play; efficiency: standard | high | None; conditions
    (h, 4): outdoor, return dry bulb, return wet bulb [K], pressure [Pa]; node_weights (h), summing to 1.
    """
    chosen = range(len(EFFICIENCIES)) if efficiency is None else (EFFICIENCIES.index(efficiency),)
    parts = [
        _part(table, index, conditions, number * len(EFFICIENCIES) + index)
        for number, table in enumerate(tables)
        for index in chosen
    ]
    shares = [np.log(_share(efficiency, index) / len(tables)) for _ in tables for index in chosen]
    joined = {name: np.concatenate([part[name] for part in parts], axis=_AXIS.get(name, 0)) for name in parts[0]}
    offsets = np.repeat(shares, len(CLASSES) * 3)
    joined["log_weight"] = joined["log_weight"] + offsets + np.log(node_weights)[:, None]
    return Joint(**joined)


_AXIS = {"log_weight": 1, "mean": 1, "reference": 1}


def _share(efficiency: str | None, index: int) -> float:
    return EFFICIENCY_SHARES[index] if efficiency is None else 1.0


def _part(table: CycleTables, index: int, conditions: Array, number: int) -> dict[str, NDArray]:
    classes, components = table.weights.shape[1:]
    size = classes * components
    reference = design_matrix(conditions) @ table.reference[index].T
    middle = slopes(conditions[len(conditions) // 2 : len(conditions) // 2 + 1])[0]
    residual = np.concatenate([table.means[index], table.hidden_means[index]], axis=-1).reshape(size, -1)
    full = np.repeat(reference[:, None, :], size, axis=1)
    mean = np.repeat(residual[None], len(conditions), axis=0)
    mean[:, :, :COUNT] += full
    return {
        "label": np.repeat(np.arange(classes), components),
        "log_weight": np.log(table.weights[index].reshape(1, size)),
        "mean": mean,
        "covariance": _covariance(table, index, size),
        "slope": np.repeat((table.reference[index] @ middle)[None], size, axis=0),
        "reference": full,
        "sound_mean": table.baseline_means[index].reshape(size, -1),
        "sound_slope": np.repeat(table.baseline_slopes[index], components, axis=0),
        "sound_spread": np.repeat(table.baseline_covariances[index], components, axis=0),
        "hypothesis": np.full(size, number),
        "coefficients": np.repeat(table.reference[index][None], size, axis=0),
    }


def _covariance(table: CycleTables, index: int, size: int) -> Array:
    covariance = np.zeros((size, COUNT + HIDDEN, COUNT + HIDDEN))
    covariance[:, :COUNT, :COUNT] = table.covariances[index].reshape(size, COUNT, COUNT)
    cross = table.hidden_cross[index].reshape(size, HIDDEN, COUNT)
    covariance[:, COUNT:, :COUNT] = cross
    covariance[:, :COUNT, COUNT:] = cross.transpose(0, 2, 1)
    covariance[:, range(COUNT, COUNT + HIDDEN), range(COUNT, COUNT + HIDDEN)] = table.hidden_variances[
        index
    ].reshape(size, HIDDEN)
    return covariance


def select(joint: Joint, keep: NDArray) -> Joint:
    """The joint of some components only."""
    names = (
        "label",
        "covariance",
        "slope",
        "sound_mean",
        "sound_slope",
        "sound_spread",
        "hypothesis",
        "coefficients",
    )
    narrowed = {name: getattr(joint, name)[keep] for name in names}
    wide = {name: getattr(joint, name)[:, keep] for name in ("log_weight", "mean", "reference")}
    return replace(joint, **narrowed, **wide)
