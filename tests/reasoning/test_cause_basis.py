"""What a cause's probability is said to rest on, and the most that simulated units alone may say.

The parts of the answer by which it is checked are the contract's own; that an insulation test is a test of its own
and gauges are not: common practice, no source.
"""

import json
from functools import cache
from pathlib import Path

import pytest

from service.app import create_app
from service.knowledge.limits import limit
from service.reasoning.cause_basis import SIMULATED, TESTS, as_written, capped

VISITS = Path(__file__).parents[2] / "samples" / "visits"


@cache
def client():
    return create_app().test_client()


def answer(visit):
    return client().post("/v1/assessment", json=visit).get_json()


def sample(name):
    return json.loads((VISITS / f"{name}.json").read_text())


def test_a_grounded_winding_rests_on_its_own_test():
    lead = answer(sample("grounded-winding"))["causes"][0]
    assert lead["code"] == "cause.winding-grounded"
    assert lead["rests_on"] == "tests"
    assert "simulated_probability" not in lead
    assert lead["probability"] > limit("simulated.most-share").value


def test_gauges_alone_rest_on_simulated_units_and_say_what_those_made_of_it():
    visit = sample("low-charge-valve")
    visit = {name: visit[name] for name in ("equipment", "running", "air")}
    del visit["equipment"]["target_subcooling"]
    lead = answer(visit)["causes"][0]
    assert lead["rests_on"] == "simulated_units"
    assert lead["probability"] <= limit("simulated.most-share").value
    assert 0.0 < lead["simulated_probability"] <= limit("simulated.most-share").value


def test_a_complaint_alone_is_history():
    causes = answer({"complaint": {"symptoms": ["not_cooling"]}})["causes"]
    assert {cause["rests_on"] for cause in causes} == {"history"}


def test_the_provenance_names_temperature_and_set_where_simulated_units_were_relied_on():
    said = answer(sample("low-charge-valve"))["provenance"]["simulated_units"]
    assert "temperature 1 or (16 + squared distance)" in said
    assert "fitted on" in said
    assert "simulated_units" not in answer(sample("grounded-winding"))["provenance"]


def test_what_is_taken_from_the_leading_cause_goes_to_the_others_as_they_stand():
    shown = [("cause.undercharge", 0.99), ("cause.none-found", 0.008), ("cause.overcharge", 0.002)]
    assert capped(shown, TESTS) == shown
    lead, *others = capped(shown, SIMULATED)
    assert lead == ("cause.undercharge", pytest.approx(0.97))
    assert [share for _, share in others] == pytest.approx([0.024, 0.006])


def test_two_that_lead_alike_are_written_in_order_and_sum_to_one():
    """Of two equal leaders neither is written as less than the one behind it, and the sum is 1."""
    others = [0.48355, 0.0133, 0.0131, 0.00645]
    written = as_written(others)
    assert written == sorted(written, reverse=True)
    assert sum(written) == pytest.approx(1.0, abs=1e-12)
