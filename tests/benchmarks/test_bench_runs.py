"""The benchmark command runs to its end and writes its history; what it measures is no test."""

import json
import subprocess
import sys

import pytest

from service.workshop.benchmarking import questions
from service.workshop.benchmarking.parts import PARTS

pytest.importorskip("uvicorn", reason="needs the optional dependencies: pip install '.[bench]'")
pytest.importorskip("fastapi", reason="needs the optional dependencies: pip install '.[bench]'")


def bench(*arguments):
    command = [sys.executable, "-m", "service", "bench", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)


def test_a_tiny_run_prints_every_part_and_appends_to_the_history(tmp_path):
    history = tmp_path / "history.jsonl"
    history.write_text('{"earlier": true}\n')
    done = bench("--tiny", "--history", str(history))
    assert done.returncode == 0, done.stderr
    earlier, line = map(json.loads, history.read_text().splitlines())
    assert earlier == {"earlier": True}
    assert line.keys() >= {"time", "commit", "python", "processor", "cores", "figures"}
    figures = line["figures"]
    for name in ("saturation_over_F", "assessment_over_pydantic", "batch_over_single"):
        assert figures[name]["value"] > 0
    assert figures["ready_seconds"] > 0
    assert figures["two_workers_pss_mib"] > 10
    assert figures["points_fit"]["each"] > 0
    assert figures["saturation_p99_over_service_time"]["value"] > 0
    assert figures["library_visits"] == 20
    assert set(figures) == {row.split()[0] for row in done.stdout.splitlines()}


def test_an_unknown_part_is_refused_by_name():
    done = bench("nothing")
    assert done.returncode == 2
    assert "no such part: nothing" in done.stderr
    assert set(PARTS) == {"starting", "ratios", "sizes", "waiting", "memory"}


def test_the_assessed_visit_has_25_readings_and_no_two_are_alike():
    asked = questions.assessment()
    documents = [asked.raw().partition(b"\r\n\r\n")[2] for _ in range(questions.VERSIONS)]
    assert len(set(documents)) == questions.VERSIONS
    first = json.loads(documents[0])
    assert sum(count(first[part]) for part in questions.READING_PARTS) == 25
    assert len(questions.ECHO.body) == pytest.approx(600, abs=10)


def count(content):
    return sum(map(count, content.values())) if isinstance(content, dict) else 1
