"""A month of an invented firm's visits: every name, number and fault here is made up, and made from a seed.

    python samples/invented_firm.py > samples/fleet/july.ndjson

A sound unit (36,000 Btu/h, R-410A, expansion valve) reads what the service itself expects of one in that weather;
each fault then moves the readings it is known to move. `truth` of a visit is the fault that was put in; the firm
knows it where a repair proved it, and of most sound units only that no customer called again.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

Visit = dict[str, Any]
TECHNICIANS = ("A", "B", "C", "D", "E")
EQUIPMENT = {
    "kind": "split_air_conditioner",
    "refrigerant": "R-410A",
    "metering_device": "thermostatic_expansion_valve",
    "rated_capacity": 36000,
    "nominal_voltage": "208_230",
    "phases": 1,
    "target_subcooling": 10,
    "compressor": {"type": "scroll", "drive": "single_phase", "rated_load_amps": 16.7, "locked_rotor_amps": 96},
}
DEAD = {
    "disconnect_locked": True,
    "meter_proved_before": True,
    "line_to_line_volts": 0,
    "line1_to_ground_volts": 0,
    "line2_to_ground_volts": 0,
    "meter_proved_after": True,
    "capacitor_residual_volts": 0,
}
# Spread of a reading from instrument and placement, one standard deviation.
SPREAD = {
    "suction_pressure": 1.5,
    "liquid_pressure": 3.0,
    "suction_line_temperature": 0.8,
    "liquid_line_temperature": 0.6,
    "discharge_line_temperature": 2.0,
    "supply_dry_bulb": 0.5,
}


@dataclass(frozen=True)
class Job:
    """One visit of the month, and the fault that was put into it (None: sound)."""

    document: Visit
    truth: str | None
    technician: str


def month(count: int, seed: int = 2026) -> Iterator[Job]:
    """So many visits in July, in order of date."""
    for number in range(count):
        day = 1 + number * 31 // count
        yield job(number, day, seed)


def job(number: int, day: int, seed: int) -> Job:
    """Visit `number`: the same number and seed give the same visit, whatever else is made."""
    draw = random.Random(f"{seed}/{number}")
    truth = draw.choices(list(FAULTS), [share for _, share in FAULTS.values()])[0]
    outdoor, wet_bulb = draw.uniform(82, 102), draw.uniform(63, 69)
    document = sound_unit(draw, outdoor, wet_bulb)
    document |= {"reference": f"july-{number:06d}", "visit_date": f"2026-07-{day:02d}"}
    FAULTS[truth][0](document, draw)
    return Job(document, None if truth == "none" else f"cause.{truth}", draw.choice(TECHNICIANS))


def sound_unit(draw: random.Random, outdoor: float, wet_bulb: float) -> Visit:
    """Readings of a sound unit: straight lines through the service's own expected values between 82 and 102 F."""
    warm, humid = outdoor - 95.0, wet_bulb - 67.0
    running = {
        "suction_pressure": 130.9 + 0.32 * warm + 1.93 * humid,
        "liquid_pressure": 383.9 + 4.7 * warm + 1.26 * humid,
        "suction_line_temperature": 57.9 + 0.13 * warm + 0.8 * humid,
        "liquid_line_temperature": 103.2 + 1.06 * warm + 0.31 * humid,
        "discharge_line_temperature": 163.2 + 1.24 * warm - 0.19 * humid,
    }
    air = {"outdoor_dry_bulb": outdoor, "return_dry_bulb": 80.0, "return_wet_bulb": wet_bulb}
    air["supply_dry_bulb"] = 61.9 + 0.07 * warm + 0.78 * humid
    for readings in (running, air):
        for name, value in readings.items():
            readings[name] = round(value + draw.gauss(0.0, SPREAD.get(name, 0.3)), 1)
    return {
        "equipment": EQUIPMENT,
        "complaint": {"symptoms": ["poor_cooling"]},
        "inspection": {"filter_dirty": False, "outdoor_coil_dirty": False, "indoor_coil_dirty": False},
        "electrical": {"supply": {"idle_volts": 241, "running_volts": 237}},
        "running": {"minutes_running": 20, **running},
        "air": air,
    }


def _move(visit: Visit, part: str, **by: float) -> None:
    for name, difference in by.items():
        visit[part][name] = round(visit[part][name] + difference, 1)


def _sound(visit: Visit, draw: random.Random) -> None:
    visit["complaint"] = {"symptoms": [draw.choice(["poor_cooling", "high_bill"])]}


def _undercharge(visit: Visit, draw: random.Random) -> None:
    size = draw.uniform(0.7, 1.3)
    _move(visit, "running", suction_pressure=-17 * size, liquid_pressure=-45 * size)
    _move(visit, "running", discharge_line_temperature=14 * size)
    _move(visit, "running", suction_line_temperature=4 * size, liquid_line_temperature=-1.5 * size)
    _move(visit, "air", supply_dry_bulb=3 * size)
    visit["inspection"]["oil_stains"] = draw.random() < 0.5


def _overcharge(visit: Visit, draw: random.Random) -> None:
    size = draw.uniform(0.8, 1.4)
    _move(visit, "running", liquid_pressure=48 * size, liquid_line_temperature=1.0)
    _move(visit, "running", discharge_line_temperature=7 * size)


def _low_indoor_airflow(visit: Visit, draw: random.Random) -> None:
    size = draw.uniform(0.8, 1.3)
    _move(visit, "running", suction_pressure=-12 * size, liquid_pressure=-12 * size)
    _move(visit, "running", suction_line_temperature=-5 * size)
    _move(visit, "air", supply_dry_bulb=-4.5 * size)
    visit["inspection"]["filter_dirty"] = True


def _outdoor_coil_blocked(visit: Visit, draw: random.Random) -> None:
    size = draw.uniform(0.8, 1.3)
    _move(visit, "running", suction_pressure=4 * size, liquid_pressure=75 * size)
    _move(visit, "running", liquid_line_temperature=13 * size, discharge_line_temperature=18 * size)
    visit["inspection"]["outdoor_coil_dirty"] = True


def _run_capacitor_failed(visit: Visit, draw: random.Random) -> None:
    del visit["running"], visit["air"]
    visit |= {"complaint": {"symptoms": ["hums_no_start", "not_cooling"]}, "isolation": DEAD}
    section = {"serves": "compressor", "rated_microfarads": 45, "rated_volts": 440}
    visit["electrical"]["run_capacitors"] = [section | {"measured_microfarads": round(draw.uniform(5, 36), 1)}]


def _winding_grounded(visit: Visit, draw: random.Random) -> None:
    del visit["running"], visit["air"]
    visit |= {"complaint": {"symptoms": ["breaker_trips", "not_cooling"]}, "isolation": DEAD}
    ground = {"instrument": "ohmmeter", "common_to_shell": {"ohms": round(draw.uniform(2, 900), 1)}}
    visit["electrical"] |= {"insulation": ground, "protection": {"trips": "at_once"}}


def _supply_gone(visit: Visit, _: random.Random) -> None:
    del visit["running"], visit["air"]
    visit["complaint"] = {"symptoms": ["no_start", "not_cooling"]}
    visit["electrical"] = {"supply": {"idle_volts": 0}}


# Fault, how it moves a visit, and its share of the month.
FAULTS: dict[str, tuple[Callable[[Visit, random.Random], None], float]] = {
    "none": (_sound, 0.24),
    "undercharge": (_undercharge, 0.22),
    "low-indoor-airflow": (_low_indoor_airflow, 0.15),
    "outdoor-coil-blocked": (_outdoor_coil_blocked, 0.13),
    "run-capacitor-failed": (_run_capacitor_failed, 0.14),
    "overcharge": (_overcharge, 0.06),
    "winding-grounded": (_winding_grounded, 0.03),
    "no-supply": (_supply_gone, 0.03),
}

VISITS = 240
MISTYPED = 100
"""Number of the visit whose pressure was typed as a word; a real month has such a line too."""


def record(made: Job, number: int) -> dict[str, Any]:
    """A line of the firm's records: the visit, what was proven, and whether the customer called again."""
    draw = random.Random(f"record/{number}")
    again = draw.random() < 0.04
    proven = made.truth if made.truth is not None else "cause.none-found" if draw.random() < 0.3 else None
    if number == MISTYPED:
        made.document["running"] = {"suction_pressure": "about 120"}
    return {"visit": made.document, "proven": proven, "callback": again}


def main() -> None:
    """Write the month, a line a visit."""
    for number, made in enumerate(month(VISITS)):
        print(json.dumps(record(made, number)))


if __name__ == "__main__":
    main()
