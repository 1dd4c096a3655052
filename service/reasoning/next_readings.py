"""Which reading to take next: expected information gain per minute, safety first, and when to stop.

A reading comes out normal or abnormal with a chance that depends on the cause; the gain is the mutual
information between that outcome and the cause (Lindley 1956, On a measure of the information provided by an
experiment). Where the cycle model judges, it says what the gauges, clamps and air readings are worth.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from operator import attrgetter
from typing import Any, Protocol

from service.knowledge.cycle_model import FAULTS, SOUND
from service.knowledge.readings import ReadingRow, reading_rows
from service.reasoning.cycle_weighing import class_of
from service.reasoning.holds import keeps_off
from service.results.answer import Cause, Hold, NextReading
from service.results.cycle import CycleVerdict
from service.results.visit import Visit

WORTH_BITS = 0.02  # below this a reading is not worth asking for; project choice
MOST = 6
NOT_PROVEN, FLAMMABLE = "hold.isolation-not-proven", "hold.flammable-refrigerant"
ISOLATION = (
    "/isolation/disconnect_locked",
    "/isolation/meter_proved_before",
    "/isolation/line_to_line_volts",
    "/isolation/line1_to_ground_volts",
    "/isolation/line2_to_ground_volts",
    "/isolation/meter_proved_after",
)
# What else is proven dead, by how the compressor is fed; the run capacitor is discharged first of all.
ALSO_DEAD = {
    "single_phase": ("/isolation/capacitor_residual_volts",),
    "three_phase": (
        "/isolation/line2_to_line3_volts",
        "/isolation/line1_to_line3_volts",
        "/isolation/line3_to_ground_volts",
    ),
    "inverter": ("/isolation/drive_bus_volts",),
}
# What is not read at the contactor's line side, and the name of the reading.
STORED = {
    "/isolation/capacitor_residual_volts": "reading.isolation-capacitor",
    "/isolation/drive_bus_volts": "reading.isolation-bus",
}
# What is read again once it was bled, by the hold that its charge raised.
CHARGED = {
    "hold.capacitor-charged": "/isolation/capacitor_residual_volts",
    "hold.drive-bus-charged": "/isolation/drive_bus_volts",
}
# Reading rows whose worth the cycle model knows, and its names for them.
FROM_CYCLE = {
    "reading.gauges": ("suction_saturation_temperature", "liquid_saturation_temperature"),
    "reading.suction-line": ("suction_line_temperature",),
    "reading.liquid-line": ("liquid_line_temperature",),
    "reading.discharge-line": ("discharge_line_temperature",),
    "reading.air-split": ("supply_dry_bulb",),
    "reading.supply-wet-bulb": ("supply_wet_bulb",),
    "reading.condenser-leaving": ("condenser_leaving_dry_bulb",),
    "reading.airflow": ("airflow_ratio",),
    "reading.return-wet-bulb": ("return_wet_bulb",),
    "reading.drier-drop": ("drier_temperature_drop",),
    "reading.standing": ("standing_saturation_excess",),
    "reading.pump-down": ("pump_down",),
    "reading.nameplate-subcooling": ("target_subcooling",),
}
KNOWN_CLASSES = frozenset(FAULTS) | {SOUND}


class Telling(Protocol):
    """What comes out abnormal with a chance that depends on the cause: a reading, or the answer to a question."""

    @property
    def otherwise(self) -> float:
        """Chance under every cause that `abnormal` does not name."""

    @property
    def abnormal(self) -> Mapping[str, float]:
        """Chance by cause."""


def next_readings(
    visit: Visit,
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    cycle: CycleVerdict | None = None,
    *,
    off: bool = False,
    brief: bool = False,
) -> tuple[NextReading, ...]:
    """Readings worth their minutes, best first; what makes the work safe comes before everything.

    cycle: verdict of the cycle model, where it judges or has only readings to ask for. off: the unit must stay
    off for another reason than a hold. brief: a motor stands still, so power is on for the seconds of a test only.
    """
    cycle_bits = _cycle_bits(cycle, causes)
    safety = _safety(visit, holds)
    off = off or keeps_off(holds)
    shares = {cause.code: cause.probability for cause in causes}
    standing = frozenset([hold.code for hold in holds])
    feed = motor_feed(visit)
    offered = []
    for asked in _asked():
        row = asked.row
        forbidden = row.power == "on" and (off or (brief and not row.brief))
        if forbidden or feed not in row.feeds or not standing.isdisjoint(asked.hazards):
            continue
        pointer = asked.first_absent(visit)
        if pointer is None or _is_told(row, visit):
            continue
        bits = cycle_bits.get(row.code, 0.0) if cycle_bits and row.code in FROM_CYCLE else information(row, shares)
        if bits >= WORTH_BITS:
            offered.append(NextReading(pointer, row.code, row.minutes, bits, _tells_apart(row, shares)))
    offered.sort(key=lambda item: (-item.information_bits / item.minutes, item.why))
    return (*safety, *offered[: MOST - len(safety)])


@dataclass(frozen=True, slots=True)
class Asked:
    """A row of the readings with what does not change from visit to visit.

    members: how each pointer's member is read. hazards: what of taking it a hold may forbid.
    """

    row: ReadingRow
    members: tuple[tuple[str, Callable[[Visit], Any]], ...]
    hazards: frozenset[str]

    def first_absent(self, visit: Visit) -> str | None:
        """The first of its pointers at which the visit has nothing; None when all was read."""
        for pointer, member in self.members:
            value = member(visit)
            if value is None or value == ():
                return pointer
        return None


@cache
def _asked() -> tuple[Asked, ...]:
    return tuple(
        Asked(row, tuple((pointer, _member(pointer)) for pointer in row.pointers), _hazards(row))
        for row in reading_rows().values()
    )


def _hazards(row: ReadingRow) -> frozenset[str]:
    """Dead readings wait for the proof of dead; a meter that may spark waits for air free of refrigerant."""
    sparks = any(pointer.startswith("/electrical") for pointer in row.pointers)
    return frozenset(hold for hold, applies in ((NOT_PROVEN, row.power == "off"), (FLAMMABLE, sparks)) if applies)


def _cycle_bits(cycle: CycleVerdict | None, causes: Sequence[Cause]) -> dict[str, float]:
    """Gain by reading row as the cycle model expects it, scaled by the share of the causes it knows."""
    if cycle is None or not cycle.next_readings:
        return {}
    known = sum(cause.probability for cause in causes if class_of(cause.code) in KNOWN_CLASSES)
    gains = {reading.reading: reading.bits for reading in cycle.next_readings}
    return {
        row: known * max((gains.get(name, 0.0) for name in names), default=0.0)
        for row, names in FROM_CYCLE.items()
    }


def _safety(visit: Visit, holds: Sequence[Hold]) -> tuple[NextReading, ...]:
    """While dead is not proven, that is the next reading, whatever else it tells."""
    if not any(hold.code == NOT_PROVEN for hold in holds):
        return ()
    wanted = (*ISOLATION, *ALSO_DEAD.get(motor_feed(visit), ()))
    absent = [pointer for pointer in wanted if value_at(visit, pointer) is None]
    charged = [pointer for hold, pointer in CHARGED.items() if any(item.code == hold for item in holds)]
    pointer = (absent or charged or [ISOLATION[2]])[0]
    return (NextReading(pointer, STORED.get(pointer, "reading.isolation"), 5.0, 0.0),)


def value_at(visit: Visit, pointer: str) -> Any:
    """The member of the visit that a pointer names; an empty list counts as absent."""
    value = _member(pointer)(visit)
    return None if value == () else value


@cache
def _member(pointer: str) -> Callable[[Visit], Any]:
    return attrgetter(pointer[1:].replace("/", "."))


def _is_told(row: ReadingRow, visit: Visit) -> bool:
    """A wet bulb is not asked for where humidity was read."""
    return row.code == "reading.return-wet-bulb" and visit.air.return_relative_humidity is not None


def motor_feed(visit: Visit) -> str:
    """How the compressor motor is fed; single-phase where nothing says otherwise and phases are not 3."""
    drive = visit.equipment.compressor.drive
    if drive is not None:
        return drive
    return "three_phase" if visit.equipment.phases == 3 else "single_phase"


def information(row: Telling, shares: Mapping[str, float]) -> float:
    """Mutual information [bit] between the reading's outcome and the cause.

    shares: probabilities by cause, summing to 1. Returns: 0 (tells nothing) to 1 bit.
    """
    overall = known = 0.0
    for cause, share in shares.items():
        chance = row.abnormal.get(cause, row.otherwise)
        overall += share * chance
        known += share * _entropy_of_row(chance)
    return max(0.0, _binary(overall) - known)


def _binary(chance: float) -> float:
    """Entropy [bit] of a yes/no outcome."""
    if not 0.0 < chance < 1.0:
        return 0.0
    return -(chance * math.log2(chance) + (1.0 - chance) * math.log2(1.0 - chance))


# The chances of the rows are few and stay; what a reading would come out as over all causes is new each time.
_entropy_of_row = lru_cache(maxsize=1024)(_binary)


def _tells_apart(row: ReadingRow, shares: Mapping[str, float]) -> tuple[str, ...]:
    """The two or three likeliest causes that this reading points at or clears."""
    named = [cause for cause in shares if cause in row.abnormal]
    others = [cause for cause in shares if cause not in row.abnormal]
    return tuple(named[:2] + others[:1])
