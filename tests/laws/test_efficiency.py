"""A law: what is stated of the efficiency may help to tell a fault, and never makes one of a sound unit.

Source: SEER is a rating of the season, not of the head pressure of one unit in one weather; makers print 15 to 37
degF of condensing over outdoor air as normal (tests/outside). A plate is misread, a coil is changed.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any

import pytest

from service.results.answer import Answer
from service.results.finding import State
from tests.golden import golden_cases
from tests.outside.printed import printed_visits
from tests.outside.wall_units import wall_visits
from tests.simulated.judging import judge, state_of

EVERY = 17  # of the printed visits, so that every unit and every superheat is met
STATED = [
    *({"seer": float(seer)} for seer in (6, 8, 10, 13, 14, 15, 16, 18, 20, 26, 40)),
    *({"efficiency_class": word} for word in ("standard", "high")),
    {"seer": 10.0, "efficiency_class": "high"},
    {"seer": 20.0, "efficiency_class": "standard"},
]
REQUESTS = [
    case["request"]
    for _, case in golden_cases()
    if case["endpoint"] == "/v1/assessment" and case["expect"].get("status", 200) == 200
]


@cache
def sound_visits() -> tuple[dict[str, Any], ...]:
    """Golden visits that are answered sound."""
    answers = judge(REQUESTS)
    return tuple(request for request, answer in zip(REQUESTS, answers, strict=True) if state_of(answer) == "sound")


def test_there_are_sound_visits_to_try() -> None:
    assert len(sound_visits()) >= 20


@pytest.mark.parametrize("stated", STATED, ids=str)
def test_no_efficiency_makes_a_fault_of_a_sound_golden_visit(stated: dict[str, Any]) -> None:
    assert told_a_fault(sound_visits(), stated) == []


@pytest.mark.parametrize("stated", STATED, ids=str)
def test_no_efficiency_makes_a_fault_of_printed_normal_pressures(stated: dict[str, Any]) -> None:
    assert told_a_fault((*printed_visits()[::EVERY], *wall_visits()[::EVERY]), stated) == []


def told_a_fault(visits: Sequence[dict[str, Any]], stated: dict[str, Any]) -> list[str]:
    """A line for each visit that is told a fault once this is stated of its efficiency."""
    said = [visit | {"equipment": _silent(visit["equipment"]) | stated} for visit in visits]
    return [
        f"{visit.get('reference')} {visit['equipment']}: {answer.causes[0].code}, {_failed(answer)}"
        for visit, answer in zip(said, judge(said), strict=True)
        if state_of(answer) in ("fault", "unsafe")
    ]


def _failed(answer: Answer) -> list[str]:
    return [one.code for one in answer.findings if one.state is State.FAIL]


def _silent(equipment: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in equipment.items() if name not in ("seer", "efficiency_class")}
