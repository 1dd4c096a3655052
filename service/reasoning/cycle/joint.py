"""Stacked mixture components of every hypothesis in play, as residuals from the healthy reference.

A hypothesis is a kind of metering, where the request does not state it, and an efficiency class. Axes throughout
this package: v visits judged together, c classes, g hypotheses, k components of a mixture, h humidity nodes, o
readings taken.

The axis of classes has one place more than there are classes: a sound unit of which nothing but the nameplate has
been read, that is, what such a unit should read (EXPECTED). Beside the 14 readings every component has 14 other
coordinates that an answer may want. Of a class: place in the range of fault size, ln capacity, ln power, ln
efficiency, and 10 readings of the same unit when sound. Of EXPECTED: the readings themselves.
"""

from functools import cached_property, lru_cache
from typing import Final

import numpy as np

from service.knowledge.cycle_kinds import cycle_kind
from service.knowledge.cycle_model import CLASSES, COMPONENTS, SOUND, CycleTables, load_tables
from service.knowledge.cycle_readings import cycle_readings
from service.knowledge.limits import limit_table
from service.physics.arrays import Array
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.physics.cycle.reference import by_products, products
from service.reasoning.cycle.gaussian import components_of, log_sum
from service.results.record import Record

COUNT = len(READINGS)
STANDARD_SHARE: Final = "cycle.standard-class-share"
HIDDEN = 4
EXPECTED = len(CLASSES)
SOUND_CLASS = CLASSES.index(SOUND)
SATURATIONS = (READINGS.index("suction_saturation_temperature"), READINGS.index("liquid_saturation_temperature"))
NAMEPLATE = (READINGS.index("target_subcooling"), READINGS.index("target_superheat"))
# Efficiency is capacity over power: the row that makes it from the three hidden coordinates of the tables.
_WITH_EFFICIENCY = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, -1.0]])
# Variance of a reading that EXPECTED must not heed: so large that nothing of the reading is left.
_UNREAD = 1e30


class Frame(Record, eq=False, dict=True):
    """Mixtures before today's readings. The leading axis is 1 where no baseline made visits differ.

    log_weight (v, c+1, g, k); residual (v, c+1, g, k, 14) and covariance
    (v, c+1, g, k, 14, 14) of the readings, free of instrument noise; other (v, c+1, g, k, 14): residual of the
    other coordinates, across (v, c+1, g, k, 14, 14) their covariance with the readings, variance (v, c+1, g, k,
    14) their own; reference (25, g, 14, 4): see ``by_products``.
    """

    log_weight: Array
    residual: Array
    covariance: Array
    other: Array
    across: Array
    variance: Array
    reference: Array

    @cached_property
    def log_mass(self) -> Array:
        """Sum of the weights by class (v, c+1)."""
        return log_sum(self.log_weight.reshape(*self.log_weight.shape[:2], -1), -1)

    def taken(self, index: tuple[int, ...], nodes: int) -> Array:
        """The components as ``gaussian.fit`` wants them, narrowed to the readings taken."""
        places = np.array(index, dtype=np.int64)
        flat = self.covariance.reshape(-1, COUNT, COUNT)[:, places[:, None], places]
        covariance = flat.reshape(*self.covariance.shape[:4], *flat.shape[1:])
        unread = [at for at, place in enumerate(index) if place not in NAMEPLATE]
        covariance[:, EXPECTED, :, :, unread, unread] += _UNREAD
        return components_of(covariance, self.residual[..., places], nodes)


class Setting(Record):
    """The healthy reference in present conditions: readings (v, h, g, 14), slope (v, g, 14, 3) in outdoor dry
    bulb, return dry bulb and return wet bulb.
    """

    reference: Array
    slope: Array


def setting_of(reference: Array, conditions: Array) -> Setting:
    """Set a reference (25, g, 14, 4) into conditions (v, h, 5): 1, outdoor, return dry bulb, return wet bulb [K],
    pressure [Pa]."""
    flat = products(conditions) @ reference.reshape(len(reference), -1)
    found = flat.reshape(*conditions.shape[:2], *reference.shape[1:])
    return Setting(found[..., 0], found[:, conditions.shape[1] // 2, ..., 1:])


@lru_cache(maxsize=64)
def frame_of(refrigerant: str, kinds: tuple[str, ...], efficiency: str | None, unit: str | None = None) -> Frame:
    """Stack the components of the kinds of metering and the efficiency classes in play, for a kind of unit."""
    hypotheses = _hypotheses(refrigerant, kinds, efficiency)
    weights = [np.log(share * _shares(table.weights[index])) for table, index, share in hypotheses]
    others = [_others(table, index) for table, index, _ in hypotheses]
    moved, along = _aside(hypotheses, unit)
    other_moved, other_along = _of_others(moved), _of_others(along)
    return framed(
        log_weight=_stacked(weights),
        residual=_stacked([table.means[index] for table, index, _ in hypotheses]) + moved,
        covariance=_stacked([table.covariances[index] for table, index, _ in hypotheses]) + _product(along, along),
        other=_stacked([one[0] for one in others]) + other_moved,
        across=_stacked([one[1] for one in others]) + _product(other_along, along),
        variance=_stacked([one[2] for one in others]) + (other_along**2).sum(axis=-2),
        reference=by_products(np.stack([table.reference[index] for table, index, _ in hypotheses])),
    )


# Frames that no baseline changed, narrowed. Bounded: each is some 70 kB, and readings are mostly taken alike.
@lru_cache(maxsize=32)
def taken_of(
    refrigerant: str,
    kinds: tuple[str, ...],
    efficiency: str | None,
    unit: str | None,
    index: tuple[int, ...],
    nodes: int,
) -> Array:
    """See ``Frame.taken``."""
    found = frame_of(refrigerant, kinds, efficiency, unit).taken(index, nodes)
    found.flags.writeable = False  # every later question shares it
    return found


@lru_cache(maxsize=16)
def sound_columns(
    refrigerant: str, kinds: tuple[str, ...], efficiency: str | None, unit: str | None = None
) -> Array:
    """Covariance (1, c, g, k, 28, 10) of readings and other coordinates with the readings of the unit when
    sound.
    """
    hypotheses = _hypotheses(refrigerant, kinds, efficiency)
    _, along = _aside(hypotheses, unit)
    everything = np.concatenate([along, _of_others(along)], axis=-1)
    plain = [
        _sound_columns(table, index, _others(table, index)[1][..., HIDDEN:, :]) for table, index, _ in hypotheses
    ]
    return _stacked(plain) + _product(everything, along[..., :BASELINE_COUNT])


def framed(
    log_weight: Array,
    residual: Array,
    covariance: Array,
    other: Array,
    across: Array,
    variance: Array,
    reference: Array,
) -> Frame:
    """A frame of arrays by class: puts EXPECTED, whose other coordinates are the readings of a sound unit,
    behind.
    """
    sound = slice(SOUND_CLASS, SOUND_CLASS + 1)
    spread = np.diagonal(covariance[:, sound], axis1=-2, axis2=-1)
    return Frame(
        log_weight=np.concatenate([log_weight, log_weight[:, sound]], axis=1),
        residual=np.concatenate([residual, residual[:, sound]], axis=1),
        covariance=np.concatenate([covariance, covariance[:, sound]], axis=1),
        other=np.concatenate([other, residual[:, sound]], axis=1),
        across=np.concatenate([across, covariance[:, sound]], axis=1),
        variance=np.concatenate([variance, spread], axis=1),
        reference=reference,
    )


def _aside(hypotheses: list[tuple[CycleTables, int, float]], unit: str | None) -> tuple[Array, Array]:
    """Where units of a kind stand beside the simulated ones: mean (1, 1, g, 1, 14), and directions (1, 1, g, 1,
    16, 14) of one standard deviation each.

    Evaporating and condensing temperature stand aside as the kind's row says; every other reading follows as it
    does within the simulated sound units (regression on that temperature), and spreads by itself as its own row
    says. A sound visit to the same unit stands aside alike, so a baseline takes all of it out again.
    """
    row = cycle_kind(unit, hypotheses[0][0].refrigerant)
    slopes = np.stack([_follows(table, index) for table, index, _ in hypotheses])
    means, spreads = np.array([row.evaporating, row.condensing]), np.array([row.spread, row.condensing_spread])
    moved = np.einsum("s,gsd->gd", means, slopes)
    along = np.concatenate([spreads[:, None] * slopes, _between_units(len(slopes))], axis=1)
    return moved[None, None, :, None], along[None, None, :, None]


def _between_units(hypotheses: int) -> Array:
    """Directions (g, 14, 14) in which each reading by itself differs between units beyond the simulated ones."""
    spreads = np.array([cycle_readings().rows[name].between_units for name in READINGS])
    return np.broadcast_to(np.diag(spreads), (hypotheses, COUNT, COUNT))


def _follows(table: CycleTables, index: int) -> Array:
    """Change (2, 14) of every reading with evaporating and condensing temperature, among sound units."""
    share = _shares(table.weights[index])[SOUND_CLASS]
    means, inner = table.means[index, SOUND_CLASS], table.covariances[index, SOUND_CLASS]
    away = means - share @ means
    spread = np.einsum("k,kij->ij", share, inner + away[:, :, None] * away[:, None])
    found = np.stack([spread[at] / spread[at, at] for at in SATURATIONS])
    # Each moves by itself: the other saturation temperature stays where it is.
    found[0, SATURATIONS[1]] = found[1, SATURATIONS[0]] = 0.0
    return found


def _of_others(values: Array) -> Array:
    """The same of the other coordinates (..., 14): a sound visit stands aside alike; size and loss do not."""
    return np.concatenate([np.zeros((*values.shape[:-1], HIDDEN)), values[..., :BASELINE_COUNT]], axis=-1)


def _product(first: Array, second: Array) -> Array:
    """Covariance (.., n, m) that directions (.., 16, n) and (.., 16, m) share."""
    return np.asarray(first.swapaxes(-1, -2) @ second)


def _hypotheses(
    refrigerant: str, kinds: tuple[str, ...], efficiency: str | None
) -> list[tuple[CycleTables, int, float]]:
    """Tables, efficiency class and chance of every hypothesis.

    A better class that is stated leaves the standard one in play: a plate is misread, and a unit of one rating
    condenses like one of the other.
    """
    standard = limit_table(STANDARD_SHARE)[efficiency or "unknown"].value
    return [
        (load_tables(refrigerant, kind), index, share / len(kinds))
        for kind in kinds
        for index, share in enumerate((standard, 1.0 - standard))
        if share
    ]


def _stacked(by_hypothesis: list[Array]) -> Array:
    return np.stack(by_hypothesis, axis=1)[None]


def _shares(weights: Array) -> Array:
    # Stored in single precision: made to sum to 1 again.
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True))


def _others(table: CycleTables, index: int) -> tuple[Array, Array, Array]:
    """Residual (c, k, 14), covariance with the readings (c, k, 14, 14) and variance (c, k, 14) of the others.

    A sound unit's residual is a line in today's readings plus a spread of its own.
    """
    line, spread = table.baseline_slopes[index][:, None], table.baseline_covariances[index][:, None]
    sound = line @ table.covariances[index]
    across = np.concatenate([_WITH_EFFICIENCY @ table.hidden_cross[index], sound], axis=-2)
    own = (sound * line).sum(axis=-1) + np.diagonal(spread, axis1=-2, axis2=-1)
    hidden = table.hidden_variances[index] @ (_WITH_EFFICIENCY**2).T
    means = np.concatenate([table.hidden_means[index] @ _WITH_EFFICIENCY.T, table.baseline_means[index]], axis=-1)
    return means, across, np.concatenate([hidden, own], axis=-1)


def _sound_columns(table: CycleTables, index: int, sound: Array) -> Array:
    """Covariance (c, k, 28, 10) of everything with the readings of the unit when sound (c, k, 10, 14)."""
    line, spread = table.baseline_slopes[index][:, None], table.baseline_covariances[index][:, None]
    found = np.empty((len(CLASSES), COMPONENTS, 2 * COUNT, sound.shape[-2]))
    found[..., :COUNT, :] = sound.swapaxes(-1, -2)
    hidden = _WITH_EFFICIENCY @ table.hidden_cross[index]
    found[..., COUNT : COUNT + HIDDEN, :] = hidden @ line.swapaxes(-1, -2)
    found[..., COUNT + HIDDEN :, :] = sound @ line.swapaxes(-1, -2) + spread
    return found
