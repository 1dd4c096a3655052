"""What is asked: the same few documents for the service and for what it is compared with."""

from __future__ import annotations

import json
from typing import Any

from service.wire.benchmarking.load import Question
from service.wire.warm import typical_visit

UNITS = {"temperature": "degF", "pressure": "psig"}
ECHO = Question("/echo", json.dumps({"readings": [round(100 + 0.1 * n, 1) for n in range(83)]}).encode())
"""F: a body of 600 bytes."""
BATCH = "application/x-ndjson"


def saturation(refrigerant: str, points: int = 1) -> Question:
    """Saturation temperatures at pressures from 110 psig up."""
    listed = [{"pressure": 110 + round(0.25 * n, 2)} for n in range(points)]
    body = {"units": UNITS, "refrigerant": refrigerant, "points": listed}
    return Question("/v1/saturation", json.dumps(body).encode(), points)


def assessment() -> Question:
    """The whole visit."""
    return Question("/v1/assessment", json.dumps(typical_visit()).encode())


def batch(lines: int) -> Question:
    """So many visits, each with a reference and pressures of its own."""
    return Question("/v1/batch", b"\n".join(_line(n) for n in range(lines)), lines, BATCH)


def _line(number: int) -> bytes:
    found = typical_visit()
    running = found["running"]
    shifted = {**running, "suction_pressure": running["suction_pressure"] + number % 7}
    return json.dumps({**found, "reference": f"visit-{number}", "running": shifted}).encode()


READING_PARTS = ("running", "air", "electrical")


def visit_of(readings: int) -> Question:
    """The visit cut down to its first readings."""
    left, found = readings, {**typical_visit()}
    for part in READING_PARTS:
        found[part], left = _first(found[part], left)
    return Question("/v1/assessment", json.dumps(found).encode(), readings)


def count_readings(content: Any) -> int:
    """Numbers in a part of a document."""
    if isinstance(content, dict):
        return sum(map(count_readings, content.values()))
    return int(not isinstance(content, str))


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
