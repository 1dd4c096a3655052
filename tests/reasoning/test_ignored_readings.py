"""What an answer calls ignored is ignored: without those readings every verdict, hold and cause is the same.

All ignored readings of a golden visit are taken out at once; what would then be judged otherwise was not ignored.
What to read or do next may change, because a reading that is there is not asked for.
"""

import copy
import json
from typing import Any

import pytest

from service.library import assess_one
from tests.golden import golden_cases

VISITS = {
    name: case["request"]
    for name, case in golden_cases()
    if case["endpoint"] == "/v1/assessment" and case["expect"].get("status", 200) == 200
}
JUDGED = ("state", "run_permission", "lead_cause", "found", "parts")
ROUNDING = 0.0005  # of a share, which is sent with four decimals


def without(document: dict[str, Any], pointers: list[str]) -> dict[str, Any]:
    """The document without some members, an item of a list emptied rather than moved."""
    made = copy.deepcopy(document)
    for pointer in pointers:
        place: Any = made
        *way, last = pointer.removeprefix("/").split("/")
        for name in way:
            place = place[int(name)] if isinstance(place, list) else place[name]
        del place[last]
    return made


def verdicts(body: dict[str, Any]) -> tuple[dict[str, Any], dict[str, float], list[str]]:
    """What is judged of a visit, the shares of the causes, and what was ignored."""
    judged = {name: body["outcome"][name] for name in JUDGED}
    judged["holds"] = [hold["code"] for hold in body["holds"]]
    judged["findings"] = sorted(
        (item["code"], item["state"]) for item in body["findings"] if item["state"] != "not_applicable"
    )
    shares = {cause["code"]: cause["probability"] for cause in body["causes"]}
    return judged, shares, body["read"]["ignored"]


@pytest.mark.parametrize("name", VISITS)
def test_nothing_would_be_judged_otherwise_without_what_was_ignored(name, golden_answer):
    judged, shares, ignored = verdicts(golden_answer(name)[1])
    if not ignored:
        return
    body = assess_one(without(VISITS[name], ignored)).document()
    again, others, _ = verdicts(json.loads(json.dumps(body)))
    assert again == judged
    for code in shares.keys() | others.keys():
        assert shares.get(code, 0.0) == pytest.approx(others.get(code, 0.0), abs=ROUNDING)


def test_some_visits_have_readings_that_nothing_rests_on(golden_answer):
    """Otherwise the test above would look at nothing."""
    assert sum(bool(verdicts(golden_answer(name)[1])[2]) for name in list(VISITS)[:60]) > 3
