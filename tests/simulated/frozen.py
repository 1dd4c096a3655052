"""The sets that answers are measured on, frozen by their seeds before anything was tuned.

Made of the same code as the shipped tables ('our own model, new draws') or of another ('second model, same
hands'). Every set of ``frozen_sets`` was looked at while tuning. Those of ``fresh_sets`` are of other seeds and
are kept for one look at the end of a round; RESULTS.md says when that was. After that look they are no longer
fresh: the next round takes another ``FRESH`` seed.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from service.knowledge.cycle_model import METERING
from service.physics.cycle.readings import READINGS
from tests.outside.second import second_visits
from tests.simulated.populations import ALL, TIE_BREAKERS, HeldOut, held_out

REFRIGERANTS = ("R-410A", "R-22")
SEED, FRESH = 515_000, 902_000
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
SECOND = "second model, same hands"


@dataclass(frozen=True)
class FrozenSet:
    """A named set of visits; ours: made by the code that made the shipped tables, every cause as often."""

    name: str
    visits: tuple[HeldOut, ...]
    ours: bool = False


def frozen_sets(scale: int) -> list[FrozenSet]:
    """Every set. scale: visits of each cause (our own), and eighths of a hundred (second model)."""
    return _sets(scale, SEED, "")


def fresh_sets(scale: int) -> list[FrozenSet]:
    """The same of other draws, not looked at while tuning."""
    return _sets(scale, FRESH, "fresh draws, ")


def _sets(scale: int, seed: int, prefix: str) -> list[FrozenSet]:
    sets = [
        FrozenSet(f"{prefix}our own model, new draws: {name}", _drawn(_own(name, scale), seed), ours=True)
        for name in ("nominal", "perturbed", "high_efficiency")
    ]
    second = _drawn(
        lambda refrigerant, metering, at: second_visits(refrigerant, metering, max(scale // 8, 1), at), seed
    )
    rng = np.random.default_rng(seed)
    return [
        *sets,
        FrozenSet(f"{prefix}{SECOND}", second),
        FrozenSet(f"{prefix}{SECOND}: one bad reading", tuple(_spoilt(group, rng) for group in second)),
    ]


def _own(name: str, scale: int) -> Callable[[str, str, int], HeldOut]:
    return lambda refrigerant, metering, seed: held_out(refrigerant, metering, name, scale, seed)


def _drawn(draw: Callable[[str, str, int], HeldOut], seed: int) -> tuple[HeldOut, ...]:
    pairs = [(refrigerant, metering) for refrigerant in REFRIGERANTS for metering in METERING]
    return tuple(draw(refrigerant, metering, seed + at) for at, (refrigerant, metering) in enumerate(pairs))


def _spoilt(group: HeldOut, rng: np.random.Generator) -> HeldOut:
    """One reading of every visit off by ``BAD``, up or down."""
    values = group.values.copy()
    names = [name for name in ALL + TIE_BREAKERS if name in BAD]
    for row in values:
        name = names[rng.integers(len(names))]
        row[READINGS.index(name)] += BAD[name] * (1.0 if rng.random() < 0.5 else -1.0)
    return replace(group, values=values)
