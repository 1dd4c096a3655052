"""Random documents within the declared limits: each reading is possible, together they may be absurd."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

from service.results.declare import Member, declared_members
from service.results.units import KINDS, STANDARD_ATMOSPHERE, Units, from_si

UNITS = Units()
SHARES = (0.1, 0.3, 0.6, 0.9)
REFRIGERANTS = ("R-410A", "R-22", "R-32", "R-454B", "R-407C", "R-290")
MOST_ITEMS = 3
TINY, HUGE = 1e-300, 1e300


def document(of: type, chance: random.Random) -> dict[str, Any]:
    """A document of a declared record with some of its members."""
    share = chance.choice(SHARES)
    return {
        name: value(member, chance)
        for name, member in declared_members(of)
        if member.required or chance.random() < share
    }


def value(member: Member, chance: random.Random) -> Any:
    """A value that the member accepts by itself (coefficients excepted, which may leave their range)."""
    if member.kind in KINDS:
        return _reading(member, chance)
    return _OTHERS[member.kind](member, chance)


def _reading(member: Member, chance: random.Random) -> float:
    lowest = 1000.0 if member.low is None else member.low
    low = from_si(lowest, member.kind, UNITS, STANDARD_ATMOSPHERE)
    high = from_si(member.high or lowest, member.kind, UNITS, STANDARD_ATMOSPHERE)
    inside = low + (high - low) * chance.random()
    return chance.choice((low, high, inside, low + (high - low) * 0.01 * chance.random(), max(low, TINY)))


def _resistance(_: Member, chance: random.Random) -> dict[str, Any]:
    return chance.choice(
        ({"ohms": 0}, {"ohms": 5 * chance.random()}, {"ohms": 1e12}, {"over_limit": True}, {"ohms": TINY})
    )


def _insulation(_: Member, chance: random.Random) -> dict[str, Any]:
    return chance.choice(({"ohms": 0}, {"megohms": 0}, {"megohms": 1e6}, {"over_limit": True}, {"ohms": 1000}))


def _nested(member: Member, chance: random.Random) -> dict[str, Any]:
    assert member.part is not None
    return document(member.part, chance)


def _list(member: Member, chance: random.Random) -> list[dict[str, Any]]:
    count = chance.randint(1 if member.required else 0, min(MOST_ITEMS, member.length or 0))
    return [_nested(member, chance) for _ in range(count)]


_OTHERS: dict[str, Callable[[Member, random.Random], Any]] = {
    "boolean": lambda _, chance: chance.random() < 0.5,
    "integer": lambda member, chance: chance.randint(int(member.low or 0), int(member.high or 0)),
    "choice": lambda member, chance: chance.choice(member.choices),
    "choices": lambda member, chance: chance.sample(member.choices, chance.randint(0, 3)),
    "text": lambda _, chance: chance.choice(REFRIGERANTS),
    "label": lambda member, chance: chance.choice(member.choices or ("A", 1)),
    "date": lambda _, chance: chance.choice(("2019-02-28", "2024-02-29", "2026-07-01")),
    "place": lambda _, chance: chance.choice(("US", "US-CA", "EU", "FR", "none")),
    "date_time": lambda _, chance: chance.choice(("2026-07-01T14:30:00-05:00", "2024-02-29T00:00:00Z")),
    "numbers": lambda member, chance: [
        chance.choice((0, 1, 1e9, chance.random(), HUGE)) for _ in range(member.length or 0)
    ],
    "resistance": _resistance,
    "resistance_or_number": _resistance,
    "insulation": _insulation,
    "part": _nested,
    "baseline": _nested,
    "document": _nested,
    "parts": _list,
}
