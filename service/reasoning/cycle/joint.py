"""Stacked mixture components of every hypothesis in play, in absolute readings at the present conditions.

A hypothesis is a kind of metering and an efficiency class where the request does not state them. Axes: h humidity
nodes, m components, 17 coordinates (14 readings, then place in the range of fault size, ln capacity, ln power).
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_model import EFFICIENCIES, CycleTables, load_tables
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


@dataclass(frozen=True)
class Frame:
    """The part of a joint that no request changes: residuals instead of readings, otherwise as in Joint."""

    label: NDArray[np.int64]
    log_weight: Array
    residual: Array
    covariance: Array
    sound_mean: Array
    sound_slope: Array
    sound_spread: Array
    hypothesis: NDArray[np.int64]
    coefficients: Array


def build_joint(frame: Frame, conditions: Array, node_weights: Array) -> Joint:
    """Set a frame into the present conditions.

    Parameters: conditions (h, 4): outdoor, return dry bulb, return wet bulb [K], pressure [Pa]; node_weights (h),
    summing to 1.
    """
    _, first = np.unique(frame.hypothesis, return_index=True)
    distinct = frame.coefficients[first]
    by_hypothesis = np.einsum("gdt,ht->hgd", distinct, design_matrix(conditions))
    reference = by_hypothesis[:, frame.hypothesis]
    middle = len(conditions) // 2
    slope = distinct @ slopes(conditions[middle : middle + 1])[0]
    mean = np.repeat(frame.residual[None], len(conditions), axis=0)
    mean[:, :, :COUNT] += reference
    return Joint(
        frame.label,
        frame.log_weight + np.log(node_weights)[:, None],
        mean,
        frame.covariance,
        slope[frame.hypothesis],
        reference,
        frame.sound_mean,
        frame.sound_slope,
        frame.sound_spread,
        frame.hypothesis,
        frame.coefficients,
    )


@lru_cache(maxsize=64)
def frame_of(refrigerant: str, kinds: tuple[str, ...], efficiency: str | None) -> Frame:
    """Stack the components of the kinds of metering and the efficiency classes in play (None: every one)."""
    chosen = range(len(EFFICIENCIES)) if efficiency is None else (EFFICIENCIES.index(efficiency),)
    shares = EFFICIENCY_SHARES if efficiency is None else np.ones(len(EFFICIENCIES))
    parts = [
        _part(load_tables(refrigerant, kind), index, float(shares[index]) / len(kinds))
        for kind in kinds
        for index in chosen
    ]
    joined = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
    hypothesis = np.repeat(np.arange(len(parts)), len(parts[0]["label"]))
    return Frame(hypothesis=hypothesis, **joined)


def _part(table: CycleTables, index: int, share: float) -> dict[str, Any]:
    classes, components = table.weights.shape[1:]
    size = classes * components
    return {
        "label": np.repeat(np.arange(classes), components),
        "log_weight": np.log(share * _shares(table.weights[index]).reshape(size)),
        "residual": np.concatenate([table.means[index], table.hidden_means[index]], axis=-1).reshape(size, -1),
        "covariance": _covariance(table, index, size),
        "sound_mean": table.baseline_means[index].reshape(size, -1),
        "sound_slope": np.repeat(table.baseline_slopes[index], components, axis=0),
        "sound_spread": np.repeat(table.baseline_covariances[index], components, axis=0),
        "coefficients": np.repeat(table.reference[index][None], size, axis=0),
    }


def _shares(weights: Array) -> Array:
    # Stored in single precision: made to sum to 1 again.
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True))


def _covariance(table: CycleTables, index: int, size: int) -> Array:
    covariance = np.zeros((size, COUNT + HIDDEN, COUNT + HIDDEN))
    covariance[:, :COUNT, :COUNT] = table.covariances[index].reshape(size, COUNT, COUNT)
    cross = table.hidden_cross[index].reshape(size, HIDDEN, COUNT)
    covariance[:, COUNT:, :COUNT] = cross
    covariance[:, :COUNT, COUNT:] = cross.transpose(0, 2, 1)
    own = range(COUNT, COUNT + HIDDEN)
    covariance[:, own, own] = table.hidden_variances[index].reshape(size, HIDDEN)
    return covariance


def select(joint: Joint, keep: NDArray[np.int64] | NDArray[np.bool_]) -> Joint:
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
