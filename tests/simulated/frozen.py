"""The sets that answers are measured on, frozen by their seeds before anything was tuned.

Made of the same code as the shipped tables ('our own model, new draws') or of another ('second model, same
hands'). Every set of ``frozen_sets`` was looked at while tuning. Those of ``fresh_sets`` are of other seeds and
are kept for one look at the end of a round; RESULTS.md says when that was. After that look they are no longer
fresh: the next round takes another ``FRESH`` seed. ``INSTALLED`` and ``PAIRED`` hold two faults at once, as often
as charge and airflow are both wrong at installed units where each is by itself.
"""

from collections.abc import Callable

import numpy as np

from service.knowledge.cycle_model import METERING, PAIRS, SOUND
from service.physics.cycle.readings import READINGS
from service.results.record import Record, replace
from tests.outside.installed import installed_visits
from tests.outside.public import THIRD, public_visits
from tests.outside.second import second_visits
from tests.simulated.populations import ALL, SINGLE, TIE_BREAKERS, HeldOut, held_out

REFRIGERANTS = ("R-410A", "R-22")
SEED, FRESH = 515_000, 905_000
# One bad reading: a clamp without contact, a gauge that was not zeroed, an anemometer held aside. K, or share.
BAD = {
    "suction_saturation_temperature": 5.0,
    "liquid_saturation_temperature": 5.0,
    "suction_line_temperature": 7.0,
    "liquid_line_temperature": 6.0,
    "discharge_line_temperature": 15.0,
    "supply_dry_bulb": 5.0,
    "supply_wet_bulb": 5.0,
    "condenser_leaving_dry_bulb": 6.0,
    "airflow_ratio": 0.4,
    "compressor_amps_ratio": 0.3,
    "drier_temperature_drop": 4.0,
    "standing_saturation_excess": 4.0,
}
# No anemometer shows less, however it is held.
LEAST_AIRFLOW = 0.02
AIRFLOW = READINGS.index("airflow_ratio")
SECOND = "second model, same hands"
INSTALLED = f"as installed: {SECOND}"
PAIRED = "two faults at once: our own model, new draws"
# Of installed units (the source of ``tests.outside.installed``), sizes from the smallest fault on: .15 sound, .21
# short of charge, .13 over, .16 short of air, .22 and .13 two of them.
AS_INSTALLED = (
    *(SOUND,) * 3,
    *("undercharge",) * 4,
    *("overcharge",) * 3,
    *("low_indoor_airflow",) * 3,
    *(PAIRS[0],) * 4,
    *(PAIRS[1],) * 3,
)
Draw = Callable[[str, str, int], HeldOut]


class FrozenSet(Record):
    """A named set of visits; ours: made by the code that made the shipped tables, every cause as often."""

    name: str
    visits: tuple[HeldOut, ...]
    ours: bool = False


def frozen_sets(scale: int) -> list[FrozenSet]:
    """Every set. scale: visits of each cause (our own), and eighths of a hundred (second model)."""
    return _sets(scale, SEED, "")


def fresh_sets(scale: int) -> list[FrozenSet]:
    """The same of other draws, and the visits of the third model; none looked at while tuning."""
    return [*_sets(scale, FRESH, "fresh draws, "), FrozenSet(THIRD, public_visits())]


def _sets(scale: int, seed: int, prefix: str) -> list[FrozenSet]:
    sets = [FrozenSet(f"{prefix}{name}", drawn(name, scale, seed), name != SECOND) for name in GENERATORS]
    rng = np.random.default_rng(seed)
    spoilt = tuple(_spoilt(group, rng) for group in sets[-1].visits)
    installed = _drawn(
        lambda refrigerant, metering, at: installed_visits(refrigerant, metering, 12 * scale, at), seed
    )
    paired = _drawn(_own("nominal", AS_INSTALLED)(max(scale // 2, 2)), seed)
    return [
        *sets,
        FrozenSet(f"{prefix}{SECOND}: one bad reading", spoilt),
        FrozenSet(f"{prefix}{INSTALLED}", installed),
        FrozenSet(f"{prefix}{PAIRED}", paired),
    ]


def drawn(name: str, scale: int, seed: int) -> tuple[HeldOut, ...]:
    """New visits by one of ``GENERATORS``, a group for each refrigerant and kind of metering."""
    return _drawn(GENERATORS[name](scale), seed)


def _own(name: str, classes: tuple[str, ...] = SINGLE) -> Callable[[int], Draw]:
    return lambda scale: (
        lambda refrigerant, metering, seed: held_out(refrigerant, metering, name, scale, seed, classes=classes)
    )


def _second(scale: int) -> Draw:
    return lambda refrigerant, metering, seed: second_visits(refrigerant, metering, max(scale // 8, 1), seed)


def _drawn(draw: Draw, seed: int) -> tuple[HeldOut, ...]:
    pairs = [(refrigerant, metering) for refrigerant in REFRIGERANTS for metering in METERING]
    return tuple(draw(refrigerant, metering, seed + at) for at, (refrigerant, metering) in enumerate(pairs))


def _spoilt(group: HeldOut, rng: np.random.Generator) -> HeldOut:
    """One reading of every visit off by ``BAD``, up or down."""
    values = group.values.copy()
    names = [name for name in ALL + TIE_BREAKERS if name in BAD]
    for row in values:
        name = names[rng.integers(len(names))]
        row[READINGS.index(name)] += BAD[name] * (1.0 if rng.random() < 0.5 else -1.0)
        row[AIRFLOW] = max(row[AIRFLOW], LEAST_AIRFLOW)
    return replace(group, values=values)


# What draws the sets of single faults, by name: given the scale.
GENERATORS: dict[str, Callable[[int], Draw]] = {
    **{f"our own model, new draws: {name}": _own(name) for name in ("nominal", "perturbed", "high_efficiency")},
    SECOND: _second,
}
