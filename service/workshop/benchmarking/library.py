"""Visits through the library, without a server."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from service.library import Assessed, assess_all
from service.wire import strict_json
from service.wire.responding import encode
from service.workshop.benchmarking import questions


def judge_many(number: int) -> int:
    """Judge so many visits, each a little different; the bytes that were answered."""
    found = assess_all(_visits(number))
    return sum(len(encode(item.document())) for item in found if isinstance(item, Assessed))


def _visits(number: int) -> Iterator[dict[str, Any]]:
    lines = questions.batch(questions.VERSIONS).body.splitlines()
    for at in range(number):
        document = strict_json.parse(lines[at % len(lines)])
        document["air"]["outdoor_dry_bulb"] += at % 97 / 10.0
        yield document | {"reference": str(at)}
