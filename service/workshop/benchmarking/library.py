"""Visits through the library, without a server."""

from __future__ import annotations

import json

from service.reasoning.assessment import assess
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.dump import dump
from service.wire import strict_json
from service.wire.provenance import provenance
from service.wire.responding import encode
from service.words.say import Speaker
from service.workshop.benchmarking import questions


def judge_many(number: int) -> int:
    """Judge so many visits, each a little different; the bytes that were answered."""
    lines = questions.batch(questions.VERSIONS).body.splitlines()
    return sum(len(_judge(lines[at % len(lines)], at)) for at in range(number))


def _judge(line: bytes, number: int) -> bytes:
    document = strict_json.parse(line)
    document["air"]["outdoor_dry_bulb"] += number % 97 / 10.0
    visit = load(Visit, document)
    return encode(dump(assess(visit), Speaker(visit.units, visit.site_pressure), provenance(), json.dumps(number)))
