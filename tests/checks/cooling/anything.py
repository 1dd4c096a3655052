"""Visits with any value that the document accepts, however odd, made from the declarations themselves."""

from random import Random
from typing import Any

from service.knowledge.refrigerants import all_refrigerants
from service.results.declare import Member, declared_members
from service.results.units import KINDS, Units, from_si
from service.results.visit import Visit

PARTS = ("equipment", "running", "air", "standing", "start_up", "inspection", "instruments", "electrical")
UNITS = Units()


def any_document(seed: int) -> dict[str, Any]:
    """A document in the default units; few, some or nearly all members are there."""
    random = Random(seed)
    kept = random.choice((0.15, 0.4, 0.8))
    declared = dict(declared_members(Visit))
    document = {name: _part(random, declared[name].part, kept) for name in PARTS}
    document["electrical"] = {"currents": document["electrical"].get("currents", {})}
    if random.random() < 0.8:
        document["equipment"]["refrigerant"] = random.choice(all_refrigerants()).designation
    document["site"] = {"elevation": random.uniform(-1000, 16000)}
    return document


def _part(random: Random, of: Any, kept: float) -> dict[str, Any]:
    made = {}
    for name, member in declared_members(of):
        value = _value(random, member, kept) if random.random() < kept else None
        if value is not None:
            made[name] = value
    return made


def _value(random: Random, member: Member, kept: float) -> Any:
    if member.kind == "part":
        return _part(random, member.part, kept)
    if member.kind == "boolean":
        return random.random() < 0.5
    if member.kind == "choice":
        return random.choice(member.choices)
    if member.kind == "numbers":
        return [random.uniform(-1.0, 1.0) * 10.0 ** random.uniform(-5.0, 3.0) for _ in range(10)]
    if member.kind in KINDS:
        return from_si(_quantity(random, member), member.kind, UNITS, 101325.0)
    return None  # texts and whole numbers: nothing here depends on their value


def _quantity(random: Random, member: Member) -> float:
    """Anywhere in the declared range, more often where units work."""
    if member.kind == "pressure":
        return 10.0 ** random.uniform(5.2, 6.3)
    if member.kind == "temperature" and random.random() < 0.7:
        return random.uniform(250.0, 340.0)
    low, high = member.low or 0.0, member.high or 1.0
    return float(low + (high - low) * random.random() ** random.choice((1, 3, 6)))
