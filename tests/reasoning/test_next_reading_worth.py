"""The next reading is worth its minutes: it may change the decision, and the unit can have it.

What a decision is worth and its thresholds are choices of this project; the arithmetic is checked against
sampling.
Readings: a unit measured sound in a laboratory (NISTIR 7350, appendix D, through tests/laboratory).
"""

import copy
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from service.knowledge.limits import all_limits, limit
from service.library import assess_one
from service.reasoning.cycle import gain
from service.reasoning.cycle.case import prepare
from service.reasoning.cycle.next_readings import alike, predict
from service.reasoning.cycle.posterior import CAUSES
from service.reasoning.cycle.question import question_of
from service.reasoning.cycle.settling import SOUND_CAUSE, UNDECIDED, by_cause, settle
from service.reasoning.gained import decision_of, expected_of
from service.results.answer import Answer
from service.results.record import Record, replace
from tests.laboratory.unit import CONDITIONS, DRY
from tests.laboratory.visit import OWN_SUBCOOLING, visit
from tests.reasoning.cycle.questions import CORE, ask

MOIST = tuple(condition for condition in CONDITIONS if condition not in DRY)
CODES = {name: f"cause.{name.replace('_', '-')}" for name in CAUSES}


class Row(Record):
    """A yes-or-no test."""

    otherwise: float
    abnormal: Mapping[str, float]


# It finds a worn contact nearly for certain and tells nothing else.
DROP = Row(0.02, {"cause.contactor-contacts-failed": 0.98})


def _answer(document: dict[str, Any]) -> Answer:
    return assess_one(document).answer


def _shares(**shares: float) -> np.ndarray:
    found = np.zeros(len(CAUSES))
    for name, share in shares.items():
        found[CAUSES.index(name)] = share
    return found


def test_a_decision_is_worth_nothing_at_its_threshold_and_one_where_it_is_certain() -> None:
    fault, sound = limit("reasoning.established").value, limit("reasoning.sound-share").value
    assert settle(_shares(undercharge=fault)).worth == pytest.approx(0.0)
    assert settle(_shares(none_found=sound)).worth == pytest.approx(0.0)
    assert settle(_shares(overcharge=1.0)).worth == pytest.approx(1.0)
    assert settle(_shares(none_found=sound - 0.01, undercharge=0.3)).cause == UNDECIDED
    assert settle(_shares(none_found=sound + 0.01, undercharge=0.2)).cause == SOUND_CAUSE


@pytest.mark.parametrize(
    "shares", [{"none_found": 0.8, "overcharge": 0.2}, {"undercharge": 0.7}, {"overcharge": 0.5}]
)
def test_both_ways_to_count_a_decision_agree(shares: dict[str, float]) -> None:
    code, value = decision_of({CODES[name]: share for name, share in shares.items()})
    assert value == pytest.approx(float(settle(_shares(**shares)).worth))
    place = int(settle(_shares(**shares)).cause)
    assert code == ("" if place == UNDECIDED else CODES[CAUSES[place]])


def test_expected_worth_agrees_with_sampling() -> None:
    case = prepare([question_of(ask(CORE[:4], liquid_saturation_temperature=-2.0))])
    names = ("discharge_line_temperature", "supply_dry_bulb")
    offered = gain.offer(names)
    predicted = predict(case, offered, alike(case)[0])
    shipped = gain.gains(predicted, offered)
    rng = np.random.default_rng(8)
    weights = predicted.leading.weights[0]
    member = np.eye(len(predicted.leading.present))[predicted.leading.place[0]]
    member = member @ by_cause()[list(predicted.leading.present)]
    for at in range(len(names)):
        mean, spread = predicted.mean[0, :, at], np.sqrt(predicted.covariance[0, :, at, at])
        chosen = rng.choice(weights.size, 4000, p=weights)
        drawn = mean[chosen] + spread[chosen] * rng.normal(size=chosen.size)
        chance = weights / spread * np.exp(-0.5 * ((drawn[:, None] - mean) / spread) ** 2)
        after = chance / chance.sum(axis=1, keepdims=True) @ member
        now = weights @ member
        assert shipped.worth[0, at] == pytest.approx(
            max(settle(after).worth.mean() - settle(now).worth, 0.0), abs=0.05
        )
        # Four nodes a component count a yes or no coarsely.
        assert shipped.changes[0, at] == pytest.approx((settle(after).cause != settle(now).cause).mean(), abs=0.25)


def test_what_settles_nothing_of_the_doubt_is_worth_nothing() -> None:
    """A contactor drop, where a sound unit and a slight fault of the charge are as likely."""
    shares = {"cause.none-found": 0.49, "cause.undercharge": 0.49, "cause.contactor-contacts-failed": 0.02}
    found = expected_of(DROP, shares)
    assert found.bits > limit("reasoning.worth-bits").value
    assert found.worth < 0.02


@pytest.mark.parametrize("condition", MOIST)
def test_an_undecided_sound_unit_is_not_asked_for_its_contactor_first(condition: int) -> None:
    document = copy.deepcopy(visit(condition, target_subcooling=OWN_SUBCOOLING / 1.8))
    for name in ("supply_wet_bulb", "airflow", "condenser_leaving_dry_bulb"):
        document["air"].pop(name, None)
    answer = _answer(document)
    assert answer.outcome is not None
    if answer.outcome.state == "undecided":
        assert not answer.next_readings[0].pointer.startswith("/electrical/contactor")


@pytest.mark.parametrize("condition", MOIST)
def test_no_unit_is_told_sound_on_shares_before_what_is_well_worth_reading(
    condition: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where no published check of the charge passed, the shares alone tell sound; here any open reading counts."""
    document = copy.deepcopy(visit(condition))
    for name in ("supply_wet_bulb", "airflow", "condenser_leaving_dry_bulb"):
        document["air"].pop(name, None)
    told = _answer(document)
    kept = limit("reasoning.worth-before-sound")
    monkeypatch.setitem(all_limits(), kept.code, replace(kept, value=-1.0))
    waiting = _answer(document)
    assert waiting.outcome is not None
    assert waiting.outcome.state == "undecided"
    assert waiting.next_readings
    assert told.outcome is not None
    if told.outcome.state == "sound":
        assert not told.next_readings


def test_a_threshold_lies_above_one_half_so_that_one_cause_alone_can_reach_its_own():
    assert min(limit("reasoning.established").value, limit("reasoning.sound-share").value) > 0.5
