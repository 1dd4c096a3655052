"""The month of an invented firm, from the command line to the report, as samples/FLEET.md has it."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "samples"
MONTH = SAMPLES / "fleet" / "july.ndjson"
SECONDS = 240
COMMANDS = re.findall(r"^    python -m service (fleet .*)$", (SAMPLES / "FLEET.md").read_text(), re.MULTILINE)


def run(*command, folder=ROOT):
    environment = os.environ | {"PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
    return subprocess.run(
        [sys.executable, *command],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
    )


def test_the_month_is_what_the_sample_program_makes():
    done = run(str(SAMPLES / "invented_firm.py"))
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == MONTH.read_text()
    lines = [json.loads(line) for line in MONTH.read_text().splitlines()]
    dates = [line["visit"]["visit_date"] for line in lines]
    assert dates == sorted(dates)
    assert {date[:7] for date in dates} == {"2026-07"}


def test_three_commands_lead_from_the_month_to_the_report(tmp_path):
    pytest.importorskip("pyarrow")
    pytest.importorskip("distributed")
    assert len(COMMANDS) == 3
    judge, evaluate, learn = (command.replace("samples/fleet", str(MONTH.parent)).split() for command in COMMANDS)
    done = run("-m", "service", *judge, "--workers", "1", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert re.match(r"240 visits judged, 1 of them refused", done.stdout)
    done = run("-m", "service", *evaluate, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    figures = json.loads((tmp_path / "report.json").read_text())
    assert figures["figures"]["right_first"]["low"] > 0.8
    assert figures["figures"]["fault_said_of_sound"]["share"] < 0.1
    assert figures["judged"]["labels_by_no_callback"] > 0
    assert "<img" in (tmp_path / "report.html").read_text()
    done = run("-m", "service", *learn, folder=tmp_path)
    assert done.returncode == 1
    assert "labels are fewer than the 500" in done.stderr
    assert not (tmp_path / "learnt.yaml").exists()


def test_the_readme_has_the_same_commands():
    text = (ROOT / "README.md").read_text()
    for command in COMMANDS[:2]:
        assert command.split(" -o ")[0] in text
