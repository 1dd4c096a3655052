"""Visits of the third model, read from ``public_visits.csv``: built with TESPy 0.11.3 by the same hands.

The physics of coils, compressor, restrictors and humid air is a public package's (``public_unit`` says which part
is not); causes, sizes, weather and instruments are those of ``second``. How it was drawn: ``public_draw``.
"""

from functools import cache
from pathlib import Path

import numpy as np

from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle.posterior import CAUSES
from tests.outside.second import by_instruments
from tests.simulated.populations import CONDITIONS, HeldOut

TABLE = Path(__file__).with_name("public_visits.csv")
THIRD = "third model, built with TESPy 0.11.3 by the same hands"
TRUTH = ("refrigerant", "metering", "cause", "size", "share")
WEATHER = (*CONDITIONS, "barometric_pressure")
TWIN = tuple(f"sound_{name}" for name in READINGS[:BASELINE_COUNT])
HEATS = ("indoor_heat", "outdoor_heat", "air_heat", "power", "shell_heat", "flow")
SHOWN = (*TRUTH, *WEATHER, *READINGS, *TWIN, *HEATS)
SEED = 41_201  # of the instruments' errors


@cache
def public_rows() -> tuple[dict[str, str], ...]:
    """Every visit as the file has it, free of instruments' errors."""
    lines = [line for line in TABLE.read_text().splitlines() if line and not line.startswith("#")]
    names, *rows = [line.split(",") for line in lines]
    return tuple(dict(zip(names, row, strict=True)) for row in rows)


def public_visits() -> tuple[HeldOut, ...]:
    """The visits as ordinary instruments read them, a group for each refrigerant and kind of metering."""
    groups = dict.fromkeys((row["refrigerant"], row["metering"]) for row in public_rows())
    return tuple(_group(*group, SEED + at) for at, group in enumerate(groups))


def _group(refrigerant: str, metering: str, seed: int) -> HeldOut:
    rows = [row for row in public_rows() if (row["refrigerant"], row["metering"]) == (refrigerant, metering)]

    def table(names: tuple[str, ...]) -> np.ndarray:
        return np.array([[float(row[name]) for name in names] for row in rows])

    truth = np.array([CAUSES.index(row["cause"]) for row in rows]), table(("share",))[:, 0]
    weather = table(WEATHER)
    rng = np.random.default_rng(seed)
    # The unit without its fault is of the same weather: a baseline of it flatters, and no mark uses it.
    return by_instruments(
        rng, refrigerant, metering, truth, [table(READINGS), table(TWIN)], [weather, weather], 1.0
    )
