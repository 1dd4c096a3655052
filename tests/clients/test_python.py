"""A Python client by openapi-python-client, type-checked and run."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.clients.conftest import CONTRACT, ROOT, run, tool

USE = """
import json
import sys
from pathlib import Path

from diagnosis.api.properties import find_saturation, get_refrigerant
from diagnosis.api.visits import assess_visit
from diagnosis.client import Client
from diagnosis.models import AssessmentAnswer, Problem, Refrigerant, SaturationAnswer, SaturationPoint
from diagnosis.models import SaturationRequest, Visit

client = Client(base_url=sys.argv[1])
visit = Visit.from_dict(json.loads(Path(sys.argv[2]).read_text()))
answer = assess_visit.sync(client=client, body=visit)
assert isinstance(answer, AssessmentAnswer)
print(answer.outcome.state.value, answer.outcome.run_permission.value)
print(answer.causes[0].code, answer.holds == [], answer.findings[0].evidence[0])

asked = SaturationRequest(refrigerant="R-32", points=[SaturationPoint(pressure=118.0)])
points = find_saturation.sync(client=client, body=asked)
assert isinstance(points, SaturationAnswer)
print(points.points[0].dew_temperature)

asked = SaturationRequest(refrigerant="R-999", points=[SaturationPoint(pressure=118.0)])
problem = find_saturation.sync(client=client, body=asked)
assert isinstance(problem, Problem)
print(problem.status, problem.errors[0].pointer)

one = get_refrigerant.sync(client=client, designation="410a")
assert isinstance(one, Refrigerant)
print(one.designation, one.kind.value)
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The generated package and a program that uses it."""
    generator = tool("openapi-python-client", "pip install openapi-python-client")
    made = tmp_path_factory.mktemp("python")
    (made / "generator.yaml").write_text("content_type_overrides: {image/svg+xml: text/html}\n")
    options = ["--meta", "none", "--output-path", "diagnosis", "--config", "generator.yaml"]
    done = subprocess.run(
        [generator, "generate", "--path", str(CONTRACT), *options],
        cwd=made,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    skipped = [line for line in (done.stdout + done.stderr).splitlines() if line.startswith("WARNING")]
    assert skipped == ["WARNING parsing POST /v1/batch within visits. Endpoint will not be generated."]
    (made / "use.py").write_text(USE)
    return made


def test_it_answers(folder, address):
    visit = str(ROOT / "samples" / "visits" / "weak-capacitor.json")
    lines = run([sys.executable, "use.py", address, visit], folder).splitlines()
    assert lines[0].split()[0] == "fault"
    assert lines[1].startswith("cause.run-capacitor-failed True /")
    assert 30.0 < float(lines[2]) < 45.0
    assert lines[3:] == ["422 /refrigerant", "R-410A blend"]


def test_a_type_checker_follows_it(folder):
    mypy = [sys.executable, "-m", "mypy", "--cache-dir", "cache", "--follow-imports", "silent", "use.py"]
    assert "Success" in run(mypy, folder, MYPYPATH=str(Path(folder)))
