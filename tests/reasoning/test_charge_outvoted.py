"""A charge status gives way where all running readings together are another fault's.

Subcooling rises with foreign gas (the gauge reads its pressure as well) and with restrictions that back liquid up:
trade fact, symptom tables from memory (Rossi and Braun 1997). Which share convinces is a choice of this project.
"""

from dataclasses import replace

import pytest

from service.checks.refrigerant.cooling import check_cooling
from service.reasoning.charge_outvoted import without_outvoted_charge
from service.results.cycle import CycleVerdict
from service.results.finding import State
from tests.checks.cooling.visits import valve_unit, visit_of

OTHER = CycleVerdict("steady", (("non_condensables", 0.8), ("overcharge", 0.2)))


def judged(verdict, subcooling=20.0):
    found = without_outvoted_charge(check_cooling(visit_of(valve_unit(subcooling=subcooling))), verdict)
    return found, {item.code: item.state for item in found.findings}


def test_a_convincing_other_fault_leaves_the_charge_undecided():
    found, states = judged(OTHER)
    assert found.computed.charge.status == "undecided"
    assert found.computed.charge.direction is None
    assert states["charge.correct"] is State.UNDECIDED
    assert "charge.overcharged" not in states
    assert states["charge.subcooling-high"] is State.FAIL


@pytest.mark.parametrize(
    "verdict",
    [
        None,
        CycleVerdict("not_modelled"),
        replace(OTHER, state="slight"),
        replace(OTHER, state="out_of_population"),
        replace(OTHER, probabilities=(("non_condensables", 0.55), ("overcharge", 0.45))),
        replace(OTHER, probabilities=(("overcharge", 0.8), ("non_condensables", 0.2))),
        replace(OTHER, probabilities=(("none_found", 0.9), ("overcharge", 0.1))),
    ],
)
def test_anything_less_leaves_the_published_status(verdict):
    found, states = judged(verdict)
    assert found.computed.charge.status == "overcharged"
    assert found.computed.charge.direction == "remove"
    assert states["charge.overcharged"] is State.FAIL


def test_a_correct_charge_stays_correct():
    found, states = judged(OTHER, subcooling=10.0)
    assert found.computed.charge.status == "correct"
    assert states["charge.correct"] is State.PASS
