"""The OpenAPI document: what the code says, valid, complete, and within what client generators understand."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from service.app import create_app
from service.results.record import record_of
from service.results.resistance import Resistance
from service.workshop.specification import main
from service.workshop.specification.document import DOCUMENT, document_bytes
from service.workshop.specification.members import Components
from tests.contract.documents import contract, operations

SHOWN_MEDIA = {"application/json", "application/x-ndjson", "text/csv"}
UNFRIENDLY = {"anyOf", "allOf", "not", "nullable", "patternProperties", "if", "prefixItems", "discriminator"}
# A resistance, and what a patch puts into a document: whatever the member takes.
MAY_BE_EITHER = {"#/components/schemas/ResistanceOrNumber", "#/components/schemas/QuestionPatch/properties/value"}


def nodes(node: Any, where: str = "#") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object of the document but examples, with its place."""
    if isinstance(node, dict):
        yield where, node
        for name, inner in node.items():
            if name not in ("examples", "example"):
                yield from nodes(inner, f"{where}/{name}")
    elif isinstance(node, list):
        for index, inner in enumerate(node):
            yield from nodes(inner, f"{where}/{index}")


def test_the_committed_document_is_what_the_code_says(capsys):
    assert main(["--check"]) == 0, capsys.readouterr().err


def test_the_same_code_gives_the_same_bytes():
    assert document_bytes() == DOCUMENT.read_bytes()


def test_drift_is_told(tmp_path, monkeypatch, capsys):
    changed = tmp_path / "openapi.json"
    changed.write_bytes(DOCUMENT.read_bytes().replace(b"findSaturation", b"lookSaturation"))
    monkeypatch.setattr("service.workshop.specification.DOCUMENT", changed)
    monkeypatch.setattr("service.workshop.specification.write_uses", lambda: None)
    assert main(["--check"]) == 1
    assert "python -m service spec" in capsys.readouterr().err
    assert main([]) == 0
    assert changed.read_bytes() == DOCUMENT.read_bytes()


def test_it_is_a_valid_openapi_document():
    OpenAPIV31SpecValidator(contract()).validate()


def test_every_route_is_documented_and_every_documented_operation_has_a_route():
    routes = {
        (method, rule.rule.replace("<", "{").replace(">", "}"))
        for rule in create_app().url_map.iter_rules()
        for method in (rule.methods or set()) & {"GET", "POST", "PUT", "PATCH", "DELETE"}
        if not rule.rule.startswith("/docs/files/")
    }
    assert {(method, path) for method, path, _ in operations()} == routes


def test_operations_have_unique_ids_and_tags_that_are_described():
    ids = [operation["operationId"] for _, _, operation in operations()]
    assert len(set(ids)) == len(ids)
    tags = {tag["name"] for tag in contract()["tags"]}
    assert {tag for _, _, operation in operations() for tag in operation["tags"]} == tags


def test_every_operation_says_what_it_is_and_what_it_does():
    """Both stand in the docstring of its view: a view without a second paragraph has no description."""
    assert [where for where in operations() if not (where[2]["summary"] and where[2]["description"])] == []


def test_nothing_in_it_breaks_client_generators():
    for where, node in nodes(contract()):
        assert not UNFRIENDLY & node.keys(), where
        assert node.get("type") != "null", where
        assert not isinstance(node.get("type"), list), where


def test_either_or_stands_only_where_a_reading_really_has_two_forms():
    places = {where for where, node in nodes(contract()) if "oneOf" in node}
    assert {where for where in places if not re.search(r"/(circuit|conductor_gauge)$", where)} <= MAY_BE_EITHER


def test_requests_refuse_what_they_do_not_know_and_answers_may_grow():
    for name, schema in contract()["components"]["schemas"].items():
        refuses = schema.get("additionalProperties") is False
        assert refuses == (name in closed_schemas()), name


def closed_schemas() -> set[str]:
    """Names of the schemas that a request body reaches."""
    found: set[str] = set()
    waiting = [
        node["$ref"]
        for _, _, operation in operations()
        for _, node in nodes(operation.get("requestBody", {}))
        if "$ref" in node
    ]
    while waiting:
        name = waiting.pop().rsplit("/", 1)[1]
        if name not in found:
            found.add(name)
            schema = contract()["components"]["schemas"][name]
            waiting += [node["$ref"] for _, node in nodes(schema) if "$ref" in node]
    return {name for name in found if contract()["components"]["schemas"][name].get("type") == "object"}


def test_every_member_is_described_and_every_number_has_a_unit_or_a_meaning():
    for where, node in nodes(contract()["components"]["schemas"]):
        if node.get("type") == "object":
            for name, member in node.get("properties", {}).items():
                assert len(member["description"]) > 3, f"{where}/{name}"


def test_numbers_are_double():
    for where, node in nodes(contract()):
        if node.get("type") == "number":
            assert node["format"] == "double", where


def test_every_number_that_is_read_says_its_unit_and_its_range():
    in_unit = r" in (`units|the units of the document|[A-Z%][a-zA-Z]*|ohm|min|uF|rpm|s|d)|, a plain number"
    for name in closed_schemas():
        for member_name, member in contract()["components"]["schemas"][name].get("properties", {}).items():
            if member.get("type") == "number" and member_name not in ("ohms",):
                said = member["description"]
                assert re.search(in_unit, said), f"{name}.{member_name}: {said}"
                assert "Accepted: " in said, f"{name}.{member_name}: {said}"


def test_every_word_of_a_closed_list_is_explained():
    for name, schema in contract()["components"]["schemas"].items():
        for member_name, member in schema.get("properties", {}).items():
            words = member.get("items", member).get("enum", [])
            for word in words if len(words) > 1 else []:
                assert isinstance(word, int) or f"`{word}`:" in member["description"], (
                    f"{name}.{member_name}: {word}"
                )


@pytest.mark.parametrize(("method", "path", "operation"), operations())
def test_every_operation_shows_requests_with_their_answers(method, path, operation):
    content = operation["responses"]["200"]["content"]
    shown = [len(media.get("examples", {})) for name, media in content.items() if name in SHOWN_MEDIA]
    posts = operation.get("requestBody", {}).get("content", {})
    spoken = "Content-Language" in operation["responses"]["200"]["headers"]
    wanted = 2 if posts or "{" in path or spoken else 1  # what takes nothing can be asked in one way only
    if path != "/openapi.json":
        assert all(count >= wanted for count in shown)
    for media in posts.values():
        assert len(media["examples"]) >= 2
        for name in SHOWN_MEDIA & content.keys():
            assert set(media["examples"]) == set(content[name]["examples"])


@pytest.mark.parametrize("status", [400, 401, 404, 405, 406, 408, 413, 415, 422, 500, 503])
def test_every_problem_has_an_example_of_its_status(status):
    responses = [
        response
        for response in contract()["components"]["responses"].values()
        for example in response["content"]["application/problem+json"]["examples"].values()
        if example["value"]["status"] == status
    ]
    assert responses


def test_two_schemas_never_share_a_name():
    components = Components()
    components.reference(Resistance, closed=False)
    again = record_of("ResistanceShape", "Another one.", [])
    with pytest.raises(ValueError, match="Resistance"):
        components.reference(again, closed=False)
