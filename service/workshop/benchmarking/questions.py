"""What is asked: the same few documents for the service and for what it is compared with.

Visits and points differ from request to request, as in life, so that nothing is gained by remembering.
"""

from __future__ import annotations

import json
from typing import Any

from service.wire.warm import typical_visit
from service.workshop.benchmarking.load import Question

UNITS = {"temperature": "degF", "pressure": "psig"}
ECHO = Question("/echo", [json.dumps({"readings": [round(100 + 0.1 * n, 1) for n in range(83)]}).encode()])
"""F: a body of 600 bytes."""
BATCH = "application/x-ndjson"
VERSIONS = 997
READING_PARTS = ("running", "air", "electrical")


def saturation(refrigerant: str, points: int = 1) -> Question:
    """Saturation temperatures at pressures from 110 psig up."""
    versions = VERSIONS if points == 1 else 7
    return Question("/v1/saturation", [_points(refrigerant, points, 0.01 * n) for n in range(versions)], points)


def _points(refrigerant: str, points: int, shift: float) -> bytes:
    listed = [{"pressure": round(110 + shift + 0.25 * n, 2)} for n in range(points)]
    return json.dumps({"units": UNITS, "refrigerant": refrigerant, "points": listed}).encode()


def assessment() -> Question:
    """The whole visit of 25 readings."""
    return visit_of(25, 1)


def batch(lines: int) -> Question:
    """So many visits, each with a reference and readings of its own."""
    bodies = [b"\n".join(_visit(first + n, 25) for n in range(lines)) for first in (0, lines)]
    return Question("/v1/batch", bodies, lines, BATCH)


def visit_of(readings: int, items: int | None = None) -> Question:
    """The visit cut down to its first readings."""
    return Question("/v1/assessment", [_visit(n, readings) for n in range(VERSIONS)], items or readings)


def _visit(number: int, readings: int) -> bytes:
    """The typical visit with pressures and temperatures moved a little."""
    found = typical_visit()
    for name, step in (("suction_pressure", 0.01), ("liquid_pressure", 0.02), ("suction_line_temperature", 0.001)):
        found["running"][name] = round(found["running"][name] + step * (number % VERSIONS), 3)
    for name, step in (("outdoor_dry_bulb", 0.003), ("return_dry_bulb", 0.002), ("supply_dry_bulb", 0.001)):
        found["air"][name] = round(found["air"][name] + step * (number % VERSIONS), 3)
    left = readings
    for part in READING_PARTS:
        found[part], left = _first(found[part], left)
    return json.dumps({**found, "reference": f"visit-{number}"}).encode()


def _first(content: dict[str, Any], left: int) -> tuple[dict[str, Any], int]:
    kept: dict[str, Any] = {}
    for name, value in content.items():
        if isinstance(value, dict):
            inner, left = _first(value, left)
            if inner:
                kept[name] = inner
        elif left > 0:
            kept[name], left = value, left - 1
    return kept, left
