"""Additive evolution: what the last releases promised is still kept, sample by sample and name by name."""

import copy
import json
import re

import jsonschema
import pytest

from service.app import create_app
from service.results.contract import CONTRACT as VERSION
from service.workshop import specification
from service.workshop.specification import main, releasing
from service.workshop.specification.releasing import RELEASED
from tests.contract.documents import contract
from tests.contract.evolution import breaking_changes

DOCUMENTS = sorted(RELEASED.glob("openapi-*.json"))
CHANGELOG = (RELEASED.parent / "CHANGELOG.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def samples():
    """(release, path, operation, request, answer) of every JSON example that a release left behind."""
    for file in DOCUMENTS:
        document = json.loads(file.read_bytes())
        for path, item in document["paths"].items():
            operation = item.get("post", {})
            if "application/json" not in operation.get("responses", {}).get("200", {}).get("content", {}):
                continue
            requests = operation.get("requestBody", {}).get("content", {}).get("application/json", {})
            for name, example in requests.get("examples", {}).items():
                yield pytest.param(
                    document, path, operation, name, example["value"], id=f"{file.stem} {path} {name}"
                )


def members(node, where=""):
    """Places of all members, with list indexes left out."""
    if isinstance(node, dict):
        for name, inner in node.items():
            yield f"{where}/{name}"
            yield from members(inner, f"{where}/{name}")
    elif isinstance(node, list):
        for inner in node:
            yield from members(inner, where)


@pytest.mark.parametrize(("document", "path", "operation", "name", "request_body"), [*samples()])
def test_samples_of_a_release_are_answered_as_promised(client, document, path, operation, name, request_body):
    response = client.post(path, json=request_body)
    assert response.status_code == 200
    answer = response.get_json()
    content = operation["responses"]["200"]["content"]["application/json"]
    promised = {**content["schema"], "components": document["components"]}
    jsonschema.Draft202012Validator(promised).validate(answer)
    released = content["examples"][name]["value"]
    assert set(released) <= set(answer)
    assert set(members(released.get("computed", {}))) <= set(members(answer.get("computed", {})))


@pytest.mark.parametrize("file", DOCUMENTS, ids=lambda file: file.stem)
def test_nothing_that_a_release_promised_is_broken(file):
    assert breaking_changes(json.loads(file.read_bytes()), contract()) == []


@pytest.mark.parametrize("file", sorted(RELEASED.glob("codes-*.json")), ids=lambda file: file.stem)
def test_no_code_of_a_release_is_gone(file):
    for name, codes in json.loads(file.read_bytes()).items():
        assert set(codes) <= set(releasing.codes_of(name)), name


def test_every_list_of_codes_that_answers_carry_is_promised():
    """Limits are no part of an answer's codes, readings are promised by the schema of the document."""
    listed = {path for path in contract()["paths"] if "get" in contract()["paths"][path] and "{" not in path}
    lists = {path for path in listed if path.startswith("/v1/")}
    assert lists - {"/v1/sources", "/v1/readings", "/v1/refrigerants"} == set(releasing.LISTS.values())
    assert all(releasing.codes_of(name) for name in releasing.LISTS)


def test_every_release_and_this_version_are_told_in_the_changelog():
    for file in DOCUMENTS:
        version = file.stem.removeprefix("openapi-")
        assert re.search(rf"^## {re.escape(version)}\b", CHANGELOG, re.MULTILINE), version
    assert re.search(rf"^## {re.escape(VERSION)}\b", CHANGELOG, re.MULTILINE)


def broken(change):
    """What is told when a change is made to the document."""
    changed = copy.deepcopy(contract())
    change(changed)
    return breaking_changes(contract(), changed)


def lose_word(document):
    document["components"]["schemas"]["Equipment"]["properties"]["oil"]["enum"].remove("poe")


def lose_answer_member(document):
    document["components"]["schemas"]["Finding"]["properties"].pop("evidence")


def rename_operation(document):
    document["paths"]["/v1/charge"]["post"]["operationId"] = "chargeStatus"


def tighten(document):
    document["components"]["schemas"]["Supply"]["properties"]["idle_volts"]["maximum"] = 600


def require(document):
    document["components"]["schemas"]["Visit"]["required"] = ["reference"]


def stop_promising(document):
    document["components"]["schemas"]["Finding"]["required"].remove("severity")


def another_type(document):
    document["components"]["schemas"]["Quantity"]["properties"]["value"]["type"] = "string"


def lose_path(document):
    document["paths"].pop("/v1/air")


def lose_status(document):
    document["paths"]["/v1/air"]["post"]["responses"].pop("413")


def lose_parameter(document):
    parameters = document["paths"]["/v1/refrigerants/{designation}/saturation-table"]["get"]["parameters"]
    parameters[:] = [item for item in parameters if item.get("name") != "step"]


def gain_word_of_an_answer(document):
    document["components"]["schemas"]["Outcome"]["properties"]["state"]["enum"].append("sleeping")


BREAKING = (
    lose_word,
    gain_word_of_an_answer,
    lose_answer_member,
    rename_operation,
    tighten,
    require,
    stop_promising,
    another_type,
    lose_path,
    lose_status,
    lose_parameter,
)


@pytest.mark.parametrize("change", BREAKING, ids=lambda change: change.__name__)
def test_a_breaking_change_is_noticed(change):
    assert len(broken(change)) == 1


def add_member(document):
    document["components"]["schemas"]["Visit"]["properties"]["weather"] = {"type": "string"}
    document["components"]["schemas"]["Finding"]["properties"]["remark"] = {"type": "string"}


def add_word_and_path(document):
    document["components"]["schemas"]["Equipment"]["properties"]["oil"]["enum"].append("pag")
    document["paths"]["/v1/new"] = {"get": {"operationId": "new", "responses": {}}}


def widen(document):
    document["components"]["schemas"]["Supply"]["properties"]["idle_volts"]["maximum"] = 2000


@pytest.mark.parametrize("change", [add_member, add_word_and_path, widen], ids=lambda change: change.__name__)
def test_an_addition_breaks_nothing(change):
    assert broken(change) == []


def test_a_release_is_kept_once(tmp_path, monkeypatch, capsys):
    released = tmp_path / "released"
    made = specification.DOCUMENT.read_bytes()
    monkeypatch.setattr(specification, "document_bytes", lambda: made)
    monkeypatch.setattr(specification, "write_uses", lambda: None)
    monkeypatch.setattr(specification, "DOCUMENT", tmp_path / "openapi.json")
    monkeypatch.setattr(releasing.release, "__defaults__", (released,))
    assert main(["--release"]) == 0
    assert sorted(file.name for file in released.iterdir()) == [f"codes-{VERSION}.json", f"openapi-{VERSION}.json"]
    assert main(["--release"]) == 1
    assert "raise CONTRACT" in capsys.readouterr().err


def test_what_a_release_said_under_its_version_stays(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(releasing, "RELEASED", tmp_path)
    made = specification.DOCUMENT.read_bytes()
    monkeypatch.setattr(specification, "document_bytes", lambda: made)
    (tmp_path / f"openapi-{VERSION}.json").write_bytes(made)
    assert main(["--check"]) == 0
    (tmp_path / f"openapi-{VERSION}.json").write_bytes(made + b" ")
    assert main(["--check"]) == 1
    said = capsys.readouterr().err
    assert f"openapi/released/openapi-{VERSION}.json" in said
    assert "raise CONTRACT in service/results/contract.py" in said
