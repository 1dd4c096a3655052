"""What it takes to say sound, and what is asked for again, over whole visits.

Readings: a unit measured sound in a laboratory (NISTIR 7350, appendix D, through tests/laboratory).
"""

import copy
from typing import Any

import pytest

from service.library import assess_one
from service.results.answer import Answer
from tests.laboratory.unit import CONDITIONS, DRY
from tests.laboratory.visit import OWN_SUBCOOLING, visit

MOIST = tuple(condition for condition in CONDITIONS if condition not in DRY)


def _document(condition: int, **changes: dict[str, Any]) -> dict[str, Any]:
    document = copy.deepcopy(visit(condition, target_subcooling=OWN_SUBCOOLING / 1.8))
    for part, members in changes.items():
        document[part] |= members
    return document


def _assessed(document: dict[str, Any]) -> Answer:
    return assess_one(document).answer


@pytest.mark.parametrize("condition", MOIST)
def test_what_sound_waits_for_is_asked_first(condition: int) -> None:
    document = _document(condition)
    # Without airflow and wet bulb nothing else tells of the air: no unit is called sound without its supply air.
    for name in ("supply_dry_bulb", "supply_wet_bulb", "airflow"):
        document["air"].pop(name)
    answer = _assessed(document)
    assert answer.outcome is not None
    assert answer.outcome.state == "undecided"
    assert answer.next_readings[0].pointer == "/air/supply_dry_bulb"


def test_a_reading_left_out_is_asked_for_again() -> None:
    document = _document(MOIST[0])
    # At a unit told sound nothing more is asked; without its supply air this one is not.
    for name in ("supply_dry_bulb", "supply_wet_bulb", "airflow"):
        document["air"].pop(name)
    document["air"]["condenser_leaving_dry_bulb"] += 15.0
    answer = _assessed(document)
    left_out = [item.pointer for item in answer.assumptions if item.code == "assumption.cycle-reading-left-out"]
    assert left_out == ["/air/condenser_leaving_dry_bulb"]
    assert left_out[0] in {item.pointer for item in answer.next_readings}
