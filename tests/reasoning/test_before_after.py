"""POST /v1/comparison over HTTP: repaired, not repaired, not read again, and pointers that keep their prefix."""

import copy
import json
from pathlib import Path

import pytest

from service.app import create_app

VISITS = Path(__file__).parents[2] / "samples" / "visits"


def visit(name):
    return json.loads((VISITS / f"{name}.json").read_text())


@pytest.fixture(scope="module")
def post():
    client = create_app().test_client()
    return lambda before, after: client.post("/v1/comparison", json={"before": before, "after": after})


def changes(body):
    return {change["code"]: change["change"] for change in body["computed"]["changes"]}


def repaired_charge():
    after = copy.deepcopy(visit("low-charge-valve"))
    after["running"] |= {
        "suction_pressure": 130,
        "liquid_pressure": 381,
        "suction_line_temperature": 56,
        "liquid_line_temperature": 103,
        "discharge_line_temperature": 166,
    }
    after["air"]["supply_dry_bulb"] = 61.5
    after["inspection"]["oil_stains"] = False
    return after


def test_a_charge_put_right_is_proven_by_the_readings(post):
    body = post(visit("low-charge-valve"), repaired_charge()).get_json()
    assert changes(body)["charge.undercharged"] == "gone"
    assert body["computed"]["repair"] == "proven"


def test_distances_from_the_expected_shrink_when_it_is_repaired(post):
    body = post(visit("low-charge-valve"), repaired_charge()).get_json()
    liquid = next(row for row in body["computed"]["readings"] if row["pointer"] == "/running/liquid_pressure")
    assert abs(liquid["after"]["value"]) < abs(liquid["before"]["value"])


def test_the_same_readings_again_are_not_a_repair(post):
    body = post(visit("low-charge-valve"), visit("low-charge-valve")).get_json()
    assert changes(body)["charge.undercharged"] == "still"
    assert body["computed"]["repair"] == "not_proven"


def test_what_was_not_read_again_is_not_repaired(post):
    after = visit("low-charge-valve")
    del after["running"]
    body = post(visit("low-charge-valve"), after).get_json()
    assert changes(body)["charge.undercharged"] == "not_reread"
    assert body["computed"]["repair"] != "proven"
    assert any(item["pointer"].startswith("/after/running") for item in body["missing"])


def test_evidence_points_into_the_callers_body(post):
    body = post(visit("low-charge-valve"), visit("weak-capacitor")).get_json()
    pointers = [pointer for finding in body["findings"] for pointer in finding["evidence"]]
    assert pointers
    assert all(pointer.startswith("/after/") for pointer in pointers)


def test_impossible_readings_are_pointed_at_with_their_prefix(post):
    wrong = {"equipment": {"refrigerant": "R-22"}, "running": {"suction_pressure": -20}}
    response = post(wrong, {})
    assert response.status_code == 422
    assert [error["pointer"] for error in response.get_json(force=True)["errors"]] == [
        "/before/running/suction_pressure"
    ]


def test_both_visits_are_required(post):
    response = create_app().test_client().post("/v1/comparison", json={"before": {}})
    assert [error["pointer"] for error in response.get_json(force=True)["errors"]] == ["/after"]


def test_a_hold_of_the_later_visit_is_not_lost(post):
    body = post(visit("weak-capacitor"), visit("grounded-winding")).get_json()
    assert "hold.winding-grounded" in [hold["code"] for hold in body["holds"]]
    assert all(step["power"] != "on" for step in body["next_steps"])
