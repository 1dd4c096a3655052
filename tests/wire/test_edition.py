"""One edition, one answer: any change of code, knowledge or text gives another edition, and nothing else does."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from service.app import create_app
from service.library.provenance import LIBRARIES, OFFLINE, edition

ROOT = Path(__file__).parents[2]
VISIT = json.loads((ROOT / "samples/visits/grounded-winding.json").read_text())
ASK = """
import contextlib, io, json, sys
from service.app import create_app
with contextlib.redirect_stdout(io.StringIO()):
    client = create_app().test_client()
    client.get("/livez")
    version = client.get("/version")
    answer = client.post("/v1/assessment", json=json.load(open(sys.argv[1])))
print(json.dumps([version.get_json()["edition"], version.headers["X-Edition"], answer.get_data(as_text=True)]))
"""


ASK_EDITION = """
import json
from service.library.provenance import edition
print(json.dumps(edition()))
"""


ASK_VERSION = """
import json
from service.library.provenance import provenance
print(json.dumps([provenance().service, provenance().contract]))
"""


@pytest.fixture(scope="module")
def copied(tmp_path_factory):
    """A copy of the package that a test may change; what was compiled of a file counts until that changes."""
    folder = tmp_path_factory.mktemp("copy")
    shutil.copytree(ROOT / "service", folder / "service")
    return folder


def asked(folder, hash_seed="0"):
    """Edition by /version, edition by header, and the bytes of an assessment, of the package in a folder."""
    return _said(folder, hash_seed, ASK, str(ROOT / "samples/visits/grounded-winding.json"))


def edition_of(folder):
    """The edition of the package in a folder."""
    return _said(folder, "0", ASK_EDITION)


def _said(folder, hash_seed, program, *arguments):
    environment = {**os.environ, "PYTHONPATH": str(folder), "PYTHONHASHSEED": hash_seed}
    environment.pop("PROMETHEUS_MULTIPROC_DIR", None)
    command = [sys.executable, "-c", program, *arguments]
    run = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


@pytest.fixture(scope="module")
def first(copied):
    """What the copy answers before anything is changed."""
    return asked(copied)


def test_the_same_edition_gives_the_same_bytes_in_another_process_and_folder(copied, first, tmp_path):
    shutil.copytree(copied / "service", tmp_path / "service", ignore=shutil.ignore_patterns("__pycache__"))
    assert asked(tmp_path, "1") == first
    assert first[0] == first[1]


@pytest.mark.parametrize(
    ("file", "before", "after"),
    [
        pytest.param("checks/electrical/supply.py", "import annotations", "import annotations  # ", id="a check"),
        pytest.param("knowledge/topics/supply.yaml", "value: ", "value:  ", id="a limit"),
        pytest.param("words/locales/es/sentences/sentences.yaml", ": ", ":  ", id="a text of no row"),
        pytest.param("knowledge/topics/supply.yaml", "es: ", "es:  ", id="a text of a row"),
        pytest.param("results/contract.py", "1.0.0", "1.0.1", id="the contract"),
    ],
)
def test_a_change_gives_another_edition(copied, first, file, before, after):
    path = copied / "service" / file
    kept = path.read_text()
    if before not in kept:  # a file without future imports
        before, after = '"""', '"""  '
    path.write_text(kept.replace(before, after, 1))
    try:
        changed = edition_of(copied)
    finally:
        path.write_text(kept)
    assert changed != first[0]


def test_what_no_request_reaches_does_not_change_it(copied, first):
    path = copied / "service" / "workshop" / "bench.py"
    kept = path.read_text()
    path.write_text(kept + "\n# another comment\n")
    try:
        assert edition_of(copied) == first[0]
    finally:
        path.write_text(kept)
    assert "workshop" in OFFLINE


def test_a_checkout_that_moved_on_names_its_own_version(copied):
    """Not the one that pip noted when it was installed for editing: the same edition would give other bytes."""
    path = copied / "service/results/contract.py"
    kept = path.read_text()
    path.write_text('CONTRACT = "7.8.9"\n')
    try:
        assert _said(copied, "0", ASK_VERSION) == ["7.8.9", "7.8.9"]
    finally:
        path.write_text(kept)


def test_every_library_that_serving_needs_is_in_the_edition():
    needed = {line.split(">")[0].split("=")[0].strip(' "') for line in _dependencies()}
    silent = {
        "gunicorn",
        "gevent",
        "packaging",
        "prometheus-client",
        "requests",
        "CoolProp",
        "scipy",
        "PyYAML",
        "msgspec",
    }
    assert {name.lower() for name in needed - silent} <= set(LIBRARIES)


def _dependencies():
    import tomllib

    return tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["dependencies"]


@pytest.mark.parametrize("path", ["/version", "/v1/findings", "/v1/nothing", "/livez"])
def test_every_answer_names_its_edition(path):
    answer = create_app().test_client().get(path)
    assert answer.headers["X-Edition"] == edition()


def test_every_way_to_the_edition_tells_the_same():
    client = create_app().test_client()
    assessed = client.post("/v1/assessment", json=VISIT).get_json()["provenance"]
    version = client.get("/version").get_json()
    metric = client.get("/metrics").get_data(as_text=True)
    assert assessed == {name: value for name, value in version.items() if name != "commit"}
    assert f'edition="{assessed["edition"]}"' in metric
    assert f'contract="{assessed["contract"]}"' in metric
