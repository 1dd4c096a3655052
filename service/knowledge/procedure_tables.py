"""Tables of the repair procedures: tube sizes, evacuation levels, leak-repair rules, test gases."""

import re
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.units import INCH, MICRON_OF_MERCURY, POUND, STANDARD_ATMOSPHERE

INCH_OF_MERCURY = 25400.0 * MICRON_OF_MERCURY  # Pa
SIZE_TOLERANCE = 0.005  # a metric label of an inch size (9.52 mm) is the same tube


@dataclass(frozen=True, slots=True)
class TubeSize:
    """outside_diameter and wall [m], temper annealed_coil or drawn."""

    temper: str
    outside_diameter: float
    wall: float
    source: str


@dataclass(frozen=True, slots=True)
class EvacuationLevel:
    """Absolute pressures [Pa] at a standard atmosphere, by the age of the recovery machine; least: charge [kg]."""

    pressure_class: str
    least: float
    after_1993: float
    before_1993: float
    source: str


@dataclass(frozen=True, slots=True)
class LeakRule:
    """One leak-repair rule; least_charge [kg], thresholds [%] by class, ends None while in force."""

    code: str
    name: str
    edition: str
    contains: str
    potential_above: float
    least_charge: float
    starts: date
    ends: date | None
    excluded_classes: tuple[str, ...]
    thresholds: dict[str, float]
    source: str

    def in_force(self, day: date) -> bool:
        """True when the rule binds on that day."""
        return self.starts <= day and (self.ends is None or day <= self.ends)


@dataclass(frozen=True, slots=True)
class PressureTestGas:
    """accepted for a pressure test, or explosive with oil or by itself."""

    code: str
    accepted: bool
    explosive: bool


def _rows(folder: str, **keys: bool) -> list[dict[str, Any]]:
    found = by_code(folder, basis=True, source=False, **keys)
    for row in found.values():
        check_basis(row, folder)
    return list(found.values())


@cache
def tube_sizes() -> tuple[TubeSize, ...]:
    """Every tube size, by temper and size."""
    rows = _rows("tube_sizes", temper=True, outside_diameter=True, wall=True)
    return tuple(
        TubeSize(row["temper"], row["outside_diameter"] * INCH, row["wall"] * INCH, row["source"]) for row in rows
    )


def tube_size(temper: str, outside_diameter: float) -> TubeSize | None:
    """The standard tube of that outside diameter [m]; None when the standard has no such size."""
    for size in tube_sizes():
        if size.temper == temper and abs(outside_diameter / size.outside_diameter - 1.0) <= SIZE_TOLERANCE:
            return size
    return None


@cache
def _evacuation_levels() -> tuple[EvacuationLevel, ...]:
    rows = _rows(
        "evacuation_levels",
        pressure_class=True,
        least=True,
        vacuum_after=False,
        vacuum_before=False,
        absolute_millimetres=False,
    )
    return tuple(
        EvacuationLevel(
            row["pressure_class"],
            row["least"] * POUND,
            _absolute(row, "vacuum_after"),
            _absolute(row, "vacuum_before"),
            row["source"],
        )
        for row in rows
    )


def _absolute(row: dict[str, Any], key: str) -> float:
    if "absolute_millimetres" in row:
        return float(row["absolute_millimetres"]) * 1000.0 * MICRON_OF_MERCURY
    return STANDARD_ATMOSPHERE - float(row[key]) * INCH_OF_MERCURY


def evacuation_level(pressure_class: str, charge: float) -> EvacuationLevel:
    """The level for a class of 40 CFR 82.152 and a full charge [kg]."""
    fitting = [
        level
        for level in _evacuation_levels()
        if level.pressure_class == pressure_class and charge >= level.least * (1.0 - 1e-9)
    ]
    return max(fitting, key=lambda level: level.least)


@cache
def leak_rules() -> tuple[LeakRule, ...]:
    """Every leak-repair rule, in order of precedence."""
    rows = _rows(
        "leak_rules",
        name=True,
        edition=True,
        contains=True,
        potential_above=False,
        least_charge=True,
        starts=True,
        ends=False,
        excluded_classes=False,
        thresholds=True,
    )
    return tuple(_leak_rule(row) for row in rows)


def _leak_rule(row: dict[str, Any]) -> LeakRule:
    return LeakRule(
        row["code"],
        row["name"],
        row["edition"],
        row["contains"],
        float(row.get("potential_above") or 0.0),
        row["least_charge"] * POUND,
        row["starts"],
        row.get("ends"),
        tuple(row.get("excluded_classes") or ()),
        {name: float(value) for name, value in row["thresholds"].items()},
        row["source"],
    )


@cache
def _test_gases() -> dict[str, PressureTestGas]:
    found: dict[str, PressureTestGas] = {}
    for row in _rows("test_gases", accepted=True, explosive=True, spellings=True):
        gas = PressureTestGas(row["code"], bool(row["accepted"]), bool(row["explosive"]))
        for spelling in row["spellings"]:
            if found.setdefault(spelling, gas) is not gas:
                raise KnowledgeError(f"test_gases: {spelling} names two gases")
    return found


def pressure_test_gas(name: str) -> PressureTestGas | None:
    """The gas of that name in any listed spelling; None when it is not listed."""
    return _test_gases().get(re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip())
