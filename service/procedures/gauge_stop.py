"""A vacuum gauge at the end of its range: it shows the same, whatever the circuit does."""

import numpy as np

from service.knowledge.limits import limit
from service.physics.series import Mask
from service.procedures.series import Series
from service.results.record import Record
from service.results.units import MICRON_OF_MERCURY
from service.results.visit.site import Instruments

IDENTICAL = 2  # readings at the top that are the same to the last digit
ROUND = (1000.0 * MICRON_OF_MERCURY, 100.0)  # Pa: scales end at round numbers; project choice


class Stop(Record):
    """Which readings are below the stop (mask), whether any are at it, and whether the stop was stated."""

    below: Mask
    reached: bool
    stated: bool


def gauge_stop(whole: Series, instruments: Instruments) -> Stop:
    """Readings at the gauge's stated maximum; where none is stated, identical round highest readings may be."""
    stated = instruments.vacuum_maximum
    if stated is not None:
        below = whole.values < stated * (1.0 - 1e-6)
        return Stop(below, not below.all(), True)
    highest = float(whole.values.max()) if whole.places else 0.0
    top = np.abs(whole.values - highest) <= 1e-6 * highest
    ends = any(abs(highest / step - round(highest / step)) < 1e-6 * highest / step for step in ROUND)
    perhaps = ends and highest >= limit("procedures.lowest-vacuum-maximum").value and int(top.sum()) >= IDENTICAL
    if not (perhaps and bool(top[-1])):
        return Stop(np.ones(len(whole.values), dtype=bool), False, False)
    # The first of them may still be a reading.
    top[int(np.argmax(top))] = False
    return Stop(~top, True, False)
