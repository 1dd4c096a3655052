"""Refused documents leave nothing behind: not memory, and not the readings of a customer."""

import gc
import random
from contextlib import suppress

import pytest

from service.results.refusal import Refusal
from service.results.units import TABLE
from service.results.visit import Visit
from service.schemas.documents import load

ROUNDS = 300
BODIES = [
    pytest.param({"running": {"suction_pressure": "118"}}, id="text for a number"),
    pytest.param({"running": {"suction_pressure": -1e308}}, id="out of range"),
    pytest.param({"running": {"presure": 1}}, id="unknown member"),
    pytest.param({"running": 7}, id="not an object"),
    pytest.param({"units": {"pressure": "atm"}}, id="unknown unit"),
    pytest.param({"electrical": {"run_capacitors": [{"serves": "pump"}]}}, id="in a list"),
    pytest.param({"running": {"suction_pressure": 118}}, id="accepted"),
]


def offer(body, chance):
    for _ in range(ROUNDS):
        units = {name: chance.choice([*table]) for name, table in TABLE.items() if chance.random() < 0.1}
        with suppress(Refusal):
            load(Visit, {"units": units, **body})


def objects():
    gc.collect()
    return len(gc.get_objects())


@pytest.mark.parametrize("body", BODIES)
def test_nothing_is_left_behind(body):
    chance = random.Random(1)
    offer(body, chance)
    before = objects()
    offer(body, random.Random(1))
    assert objects() - before < ROUNDS // 3
