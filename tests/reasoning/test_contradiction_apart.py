"""Two readings that contradict each other leave undecided what rests on them, and nothing else.

Visits: golden ones (their sources stand there). Liquid takes up no heat in a drier: physics.
"""

import copy
from typing import Any

from service.library import assess_one
from service.results.answer import Answer
from tests.golden import golden_cases

VISITS = {name.split(":")[1]: case["request"] for name, case in golden_cases() if name.startswith("visits/")}
SHORT, SOUND = "vis-r08-short-of-refrigerant-full-set", "vis-s01-410a-valve"
DRIER = {"drier_inlet_temperature": 90.0, "drier_outlet_temperature": 97.0}


def _answer(name: str, **running: float) -> Answer:
    document: dict[str, Any] = copy.deepcopy(VISITS[name])
    document["running"] |= running
    return assess_one(document).answer


def _state(answer: Answer) -> str:
    assert answer.outcome is not None
    return answer.outcome.state


def _holds(answer: Answer) -> set[str]:
    return {hold.code for hold in answer.holds}


def test_a_fault_that_the_other_readings_name_stands_and_its_repair_waits() -> None:
    plain, contested = _answer(SHORT), _answer(SHORT, **DRIER)
    assert "hold.readings-contradict" in _holds(contested) - _holds(plain)
    assert _state(plain) == _state(contested) == "fault"
    assert contested.causes[0].code == plain.causes[0].code
    assert contested.outcome is not None
    assert not contested.outcome.parts
    assert "step.repeat-readings" in {step.code for step in contested.next_steps}


def test_no_unit_is_told_sound_over_readings_that_contradict() -> None:
    assert _state(_answer(SOUND)) == "sound"
    assert _state(_answer(SOUND, **DRIER)) == "undecided"


def test_what_contradicts_is_read_again_before_anything_else() -> None:
    """A drier's ends first; liquid under the air that cools it, the line first (physics)."""
    assert _answer(SOUND, **DRIER).next_readings[0].pointer == "/running/drier_inlet_temperature"
    air = VISITS[SHORT]["air"]["outdoor_dry_bulb"]
    under = _answer(SHORT, liquid_line_temperature=air - 15.0)
    asked = [item.pointer for item in under.next_readings]
    assert {"/running/liquid_line_temperature", "/air/outdoor_dry_bulb"} == set(asked[:2])
