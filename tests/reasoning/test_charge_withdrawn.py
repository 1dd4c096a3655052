"""A charge status gives way where another cause leads: no charge is moved for a fault that is none of the charge,
and none is moved that the leading cause does not ask for.

Subcooling rises with foreign gas (the gauge reads its pressure as well) and with restrictions that back liquid up:
trade fact, symptom tables from memory (Rossi and Braun 1997).
"""

import pytest

from service.checks.refrigerant.cooling import check_cooling
from service.reasoning.charge_withdrawn import withdraw_charge
from service.results.answer import Argument, Cause
from service.results.finding import State
from service.results.record import replace
from tests.checks.cooling.visits import valve_unit, visit_of
from tests.reasoning.cases import case_of

FOREIGN = Cause("cause.non-condensables", 0.8, (Argument("argument.for", 3.0),))


def judged(cause, subcooling=20.0):
    visit = visit_of(valve_unit(subcooling=subcooling))
    cooling = check_cooling(visit)
    found = withdraw_charge(case_of(cooling.findings, (), (cause,), visit, computed=cooling.computed))
    return found, {item.code: item.state for item in found.findings}


@pytest.mark.parametrize(
    "cause",
    [
        FOREIGN,
        replace(FOREIGN, probability=0.45),
        replace(FOREIGN, code="cause.undercharge"),
        replace(FOREIGN, code="cause.none-found", supported_by=()),
    ],
)
def test_another_leading_cause_leaves_the_charge_undecided(cause):
    found, states = judged(cause)
    assert found.computed.charge.status == "undecided"
    assert found.computed.charge.direction is None
    assert states["charge.correct"] is State.UNDECIDED
    assert "charge.overcharged" not in states
    assert states["charge.subcooling-high"] is State.FAIL


@pytest.mark.parametrize(
    "cause",
    [
        replace(FOREIGN, supported_by=()),
        replace(FOREIGN, code="cause.overcharge"),
    ],
)
def test_a_cause_that_nothing_speaks_for_or_its_own_leaves_the_published_status(cause):
    found, states = judged(cause)
    assert found.computed.charge.status == "overcharged"
    assert found.computed.charge.direction == "remove"
    assert states["charge.overcharged"] is State.FAIL


def test_what_the_status_says_is_told_by_what_leads():
    found, _ = judged(replace(FOREIGN, code="cause.none-found"))
    assert [item.variant for item in found.findings if item.code == "charge.correct"] == ["none-leads"]


def test_a_correct_charge_stays_correct():
    found, states = judged(FOREIGN, subcooling=10.0)
    assert found.computed.charge.status == "correct"
    assert states["charge.correct"] is State.PASS
