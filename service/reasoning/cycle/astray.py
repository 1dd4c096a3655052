"""Readings that may be plainly wrong: one bad reading must not decide, and the one that does not fit is named.

Beside the readings as they are, every component weighs the readings without each one in turn: that one may then
lie anywhere within a wide span. The chances and the span stand in data/cycle_readings.
"""

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_readings import cycle_readings
from service.physics.arrays import Array
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.gaussian import Fit, log_sum, squares, without_each
from service.reasoning.cycle.joint import EXPECTED, NAMEPLATE

# With fewer readings than these nothing tells which of them is wrong.
FEWEST = 4
_ENOUGH = 2  # readings left out of one visit, at most: with more wrong the visit is to be repeated


def with_one_astray(
    log_evidence: Array, fitted: Fit, index: NDArray[np.int64], values: Array
) -> tuple[Array, Array]:
    """Log-evidence (v, c+1, g, k, h) if at most one reading is plainly wrong, and the chance of each, given the
    component, that it is (v, c, g, k, h, o).

    Parameters: log_evidence and fitted with all readings; index (o) and values (v, o) of the readings.
    """
    judged = log_evidence[:, :EXPECTED]
    if index.size < FEWEST:
        return log_evidence, np.zeros((*judged.shape, index.size))
    whitening = fitted.whitening[:, :EXPECTED]
    pull = fitted.white[:, :EXPECTED] @ whitening.swapaxes(-1, -2)
    left = without_each(judged, squares(whitening), pull)
    left = left + _log_odds(index, values)[:, None, None, None, None]
    every = np.concatenate([judged[..., None], left], axis=-1)
    total = log_sum(every, -1)
    chances = np.exp(left - total[..., None])
    found = log_evidence.copy()
    found[:, :EXPECTED] = total
    return found, chances


def _log_odds(index: NDArray[np.int64], values: Array) -> Array:
    """Logarithm (v, o) of the chance that a reading is wrong, spread over its span, less that it is not."""
    odds, spans, relative = (every.take(index) for every in _of_every_reading())
    width = np.where(relative, spans * np.maximum(np.abs(values), 0.05), spans)
    return np.asarray(odds - np.log(width))


@cache
def _of_every_reading() -> tuple[Array, Array, NDArray[np.bool_]]:
    """Of all 14 readings: logarithm of the odds that it is wrong, its span, and whether that is relative."""
    table = cycle_readings()
    rows = [table.rows[name] for name in READINGS]
    chances = np.array([table.astray.chance if row.astray is None else row.astray for row in rows])
    odds = np.log(chances / (1.0 - chances))
    # The nameplate is printed: where it does not fit, the unit is not what it says.
    odds[list(NAMEPLATE)] = -np.inf
    spans = np.array([row.half_width for row in rows]) * table.astray.span
    return odds, spans, np.array([row.relative for row in rows])


def to_leave_out(chances: Sequence[float], names: Sequence[str], already: int) -> str | None:
    """The reading that is likelier wrong than not, or None; already: how many were left out before."""
    if already >= _ENOUGH or len(names) <= FEWEST:
        return None
    at = int(np.argmax(chances))
    return names[at] if chances[at] > cycle_readings().astray.left_out else None
