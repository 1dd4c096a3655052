"""The curl scripts and the Python client, run as a reader of the README would run them."""

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.wire.serving import PATIENCE

SAMPLES = Path(__file__).parents[2] / "samples"


def run(*command: str, address: str) -> str:
    """Standard output of a sample that must succeed and say nothing on standard error."""
    environment = {"PATH": os.environ["PATH"], "ADDRESS": address}
    done = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, env=environment, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


def curl(name: str, address: str, *arguments: str) -> str:
    return run(str(SAMPLES / "curl" / f"{name}.sh"), *arguments, address=address)


def test_every_curl_script_has_a_test():
    here = Path(__file__).read_text(encoding="utf-8")
    for script in (SAMPLES / "curl").iterdir():
        assert f'curl("{script.stem}"' in here


def test_saturation(address):
    points = json.loads(curl("saturation", address))["points"]
    for point in points:
        assert point["dew_temperature"] > point["bubble_temperature"]


def test_saturation_table(address):
    rows = list(csv.DictReader(io.StringIO(curl("saturation-table", address, "R-32"))))
    assert [float(row["temperature"]) for row in rows] == [30, 35, 40, 45, 50, 55, 60]


def test_assessment_of_a_sample_visit(address):
    answer = json.loads(curl("assessment", address))
    assert answer["reference"] == "demo-weak-capacitor"
    assert answer["causes"][0]["code"] == "cause.run-capacitor-failed"


def test_partial_visit_asks_for_a_reading(address):
    answer = json.loads(curl("partial-visit", address))
    assert answer["reference"] == "job-1"
    assert answer["next_readings"]


def test_refusal_points_at_both_mistakes(address):
    problem = json.loads(curl("refusal", address))
    assert problem["status"] == 422
    assert {error["pointer"] for error in problem["errors"]} == {"/points/0/pressure", "/points/1/presure"}


def test_unchanged_list(address):
    assert curl("unchanged-list", address) == "304\n"


def test_python_client(address):
    visit = str(SAMPLES / "visits" / "grounded-winding.json")
    said = run(sys.executable, str(SAMPLES / "python_client.py"), address, visit, address=address)
    lines = said.splitlines()
    assert lines[2].startswith("HOLD ")
    assert any(line.startswith("unsafe, keep_off: ") for line in lines)
    assert lines[-1].startswith("refused at /running/suction_pressure: ")
    assert "power on" not in said


@pytest.mark.parametrize("file", sorted(SAMPLES.glob("visits/*.json")), ids=lambda file: file.stem)
def test_every_sample_visit_is_answered(address, file):
    answer = json.loads(curl("assessment", address, str(file)))
    assert answer["outcome"]["summary"]


def test_a_baseline_is_kept_and_used(address):
    said = run(sys.executable, str(SAMPLES / "keep_baseline.py"), address, address=address)
    assert "used: of 2026-05-12, 8 readings used" in said
    without, with_it = (line for line in said.splitlines() if " its baseline: " in line)
    assert without.endswith("undecided")
    assert with_it == with_it.replace("undecided", "fault")
    assert "repair proven: " in said
