"""Readings that a repair has overtaken: not judged, asked for again, and no less safe (the service's own rule)."""

import copy
import json
from pathlib import Path

from service.library import assess_one

ROOT = Path(__file__).parents[2]
VISIT = json.loads((ROOT / "samples/visits/low-charge-valve.json").read_text())
GROUNDED = json.loads((ROOT / "samples/visits/grounded-winding.json").read_text())
BEFORE, REPAIRED, AFTER = "2026-07-01T09:00:00Z", "2026-07-01T11:00:00Z", "2026-07-01T12:00:00Z"


def read_at(visit, moment, *parts):
    dated = copy.deepcopy(visit)
    dated["repaired_at"] = REPAIRED
    for part in parts:
        dated[part]["read_at"] = moment
    return dated


def answer(visit):
    return assess_one(visit).document()


def test_the_gauges_from_before_the_repair_say_nothing_and_are_asked_for_again():
    before = answer(VISIT)
    assert before["causes"][0]["code"] == "cause.undercharge"
    stale = answer(read_at(VISIT, BEFORE, "running", "air"))
    codes = [(item["code"], item["pointer"]) for item in stale["assumptions"]]
    assert ("assumption.read-before-repair", "/running/read_at") in codes
    assert not any(
        pointer.startswith(("/running/", "/air/")) for item in stale["findings"] for pointer in item["evidence"]
    )
    assert stale["outcome"]["found"] == []
    asked = {item["pointer"] for item in stale["next_readings"]}
    assert asked & {"/running/suction_pressure", "/air/return_dry_bulb", "/air/outdoor_dry_bulb"}
    assert "/running/suction_pressure" in stale["read"]["ignored"]


def test_read_again_after_the_repair_it_is_judged_as_ever():
    again, ever = answer(read_at(VISIT, AFTER, "running", "air")), answer(VISIT)
    for member in ("findings", "causes", "outcome", "next_steps"):
        assert again[member] == ever[member]
    codes = {item["code"] for item in again["assumptions"]}
    assert "assumption.read-before-repair" not in codes


def test_a_hold_from_before_the_repair_stands_until_it_is_read_again():
    """A grounded winding is no less grounded because somebody says that something was repaired."""
    parts = [part for part in ("isolation", "electrical", "inspection") if part in GROUNDED]
    stale = answer(read_at(GROUNDED, BEFORE, *parts))
    assert "hold.winding-grounded" in {item["code"] for item in stale["holds"]}
    assert stale["outcome"]["run_permission"] == "keep_off"
    assert not any(step["power"] == "on" for step in stale["next_steps"])
    assert not any(part["code"] == "part.compressor" for part in stale["outcome"]["parts"])


def test_a_part_without_a_time_is_taken_as_read_after_the_repair_and_says_so():
    undated = answer({**VISIT, "repaired_at": REPAIRED})
    codes = {(item["code"], item["pointer"]) for item in undated["assumptions"]}
    assert ("assumption.read-after-repair", "/running/read_at") in codes
    assert undated["findings"] == answer(VISIT)["findings"]
