"""Real answers, of every example and every golden case, against the schemas of the document."""

import re

import jsonschema
import pytest

from service.app import create_app
from tests.contract.documents import answer_schema, contract, faults, operations
from tests.golden import golden_cases

CASES = dict(golden_cases())
OPERATIONS = {(method, path): operation for method, path, operation in operations()}


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize("identifier", CASES)
def test_golden_answers_are_as_documented(golden_answer, identifier):
    case = CASES[identifier]
    operation = OPERATIONS["POST", case["endpoint"]]
    status, answer = golden_answer(identifier)
    if status == 200:
        assert faults(answer, answer_schema(operation)) == []
        schema = operation["requestBody"]["content"]["application/json"]["schema"]
        assert faults(case["request"], schema) == []
    else:
        assert str(status) in operation["responses"]
        assert faults(answer, {"$ref": "#/components/schemas/Problem"}) == []


@pytest.mark.parametrize("path", [path for (method, path) in OPERATIONS if method == "GET" and "{" not in path])
def test_lists_are_as_documented(client, path):
    content = OPERATIONS["GET", path]["responses"]["200"]["content"]
    response = client.get(path)
    assert response.status_code == 200
    assert response.mimetype in content
    if response.mimetype == "application/json" and path != "/openapi.json":
        assert faults(response.get_json(), answer_schema(OPERATIONS["GET", path])) == []


def test_every_refrigerant_is_as_documented(client):
    schema = answer_schema(OPERATIONS["GET", "/v1/refrigerants/{designation}"])
    for item in client.get("/v1/refrigerants").get_json()["refrigerants"]:
        answer = client.get(f"/v1/refrigerants/{item['designation']}").get_json()
        assert faults(answer, schema) == []


def test_examples_are_as_documented():
    for method, path, operation in operations():
        for name, example in (
            operation["responses"]["200"]["content"].get("application/json", {}).get("examples", {}).items()
        ):
            assert faults(example["value"], answer_schema(operation)) == [], (method, path, name)


def test_examples_of_requests_are_as_documented():
    for _, path, operation in operations():
        for content in operation.get("requestBody", {}).get("content", {}).values():
            for name, example in content["examples"].items():
                assert faults(example["value"], content["schema"]) == [], (path, name)


def test_a_wrong_answer_is_noticed():
    wrong = {"refrigerant": "R-22", "points": "none", "provenance": {}}
    found = " ".join(faults(wrong, {"$ref": "#/components/schemas/SaturationAnswer"}))
    assert re.search("points", found)
    assert re.search("units", found)


def test_every_schema_is_a_json_schema():
    for schema in contract()["components"]["schemas"].values():
        jsonschema.Draft202012Validator.check_schema(schema)
