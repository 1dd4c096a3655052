"""A Python client by openapi-python-client, type-checked and run."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.clients.conftest import CONTRACT, ROOT, run, tool

AS_TEXT = {"image/svg+xml": "text/html", "application/x-ndjson": "application/octet-stream"}
"""Media types that the generator has no words for, as ones that it treats alike."""
USE = """
import json
import sys
from pathlib import Path

from diagnosis.api.properties import find_saturation, get_refrigerant
from diagnosis.api.visits import assess_many, assess_visit
from diagnosis.client import Client
from diagnosis.models import AssessmentAnswer, Problem, Refrigerant, SaturationAnswer, SaturationPoint
from diagnosis.models import BatchAnswer, BatchRequest, SaturationRequest, Visit

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

many = assess_many.sync(client=client, body=BatchRequest(visits=[visit, visit]))
assert isinstance(many, BatchAnswer)
print([entry.status for entry in many.answers])

posted = json.loads(Path(sys.argv[2]).read_text())
print(visit.to_dict() == posted, answer.read.posted > 0)
posted["running"] = {"suction_presure": 118}
print(Visit.from_dict(posted).to_dict() == posted)
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The generated package and a program that uses it."""
    generator = tool("openapi-python-client", "pip install openapi-python-client")
    made = tmp_path_factory.mktemp("python")
    (made / "generator.yaml").write_text(f"content_type_overrides: {json.dumps(AS_TEXT)}\n")
    options = ["--meta", "none", "--output-path", "diagnosis", "--config", "generator.yaml"]
    done = subprocess.run(
        [generator, "generate", "--path", str(CONTRACT), *options],
        cwd=made,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert "WARNING" not in done.stdout + done.stderr
    (made / "use.py").write_text(USE)
    return made


def test_it_answers(folder, address):
    visit = str(ROOT / "samples" / "visits" / "weak-capacitor.json")
    lines = run([sys.executable, "use.py", address, visit], folder).splitlines()
    assert lines[0].split()[0] == "fault"
    assert lines[1].startswith("cause.run-capacitor-failed True /")
    assert 30.0 < float(lines[2]) < 45.0
    assert lines[3:5] == ["422 /refrigerant", "R-410A blend"]
    assert lines[5] == "[200, 200]"


def test_no_operation_is_left_out(folder):
    operations = [
        item["operationId"]
        for path in json.loads(CONTRACT.read_bytes())["paths"].values()
        for item in path.values()
    ]
    made = [file for file in (folder / "diagnosis" / "api").glob("*/*.py") if file.name != "__init__.py"]
    assert len(made) == len(operations) > 30


def test_the_guides_check_notices_a_lost_member(folder, address):
    """What is known is written as it was read; a member that the types do not know is not, and comparing tells."""
    visit = str(ROOT / "samples" / "visits" / "weak-capacitor.json")
    assert run([sys.executable, "use.py", address, visit], folder).splitlines()[6:] == ["True True", "False"]


def test_a_type_checker_follows_it(folder):
    mypy = [sys.executable, "-m", "mypy", "--cache-dir", "cache", "--follow-imports", "silent", "use.py"]
    assert "Success" in run(mypy, folder, MYPYPATH=str(Path(folder)))
