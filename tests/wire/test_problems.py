"""Problem documents (RFC 9457): one shape for every refusal, and nothing of the inside in any of them."""

from __future__ import annotations

import ast
import json
import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

import service
from service.knowledge.problem_types import error_codes, problem_types
from service.words.refusing import problem_title
from tests.wire.conftest import SECRET_TEXT, make_app

JSON = {"Content-Type": "application/json"}


def check_problem(client: FlaskClient, response: TestResponse, status: int, code: str) -> dict[str, Any]:
    """Every member that the contract names is there, and the type resolves to the same code."""
    assert response.status_code == status
    assert response.content_type == "application/problem+json"
    document: dict[str, Any] = json.loads(response.data)
    assert document["status"] == status
    assert document["code"] == code
    assert document["title"] == problem_title(code, "en")
    assert response.headers["Content-Language"] == "en"
    assert document["instance"] == f"urn:request:{response.headers['X-Request-Id']}"
    assert isinstance(document["detail"], str)
    assert {entry["code"] for entry in document["errors"]} <= set(error_codes())
    resolved = client.get(document["type"])
    assert resolved.status_code == 200
    assert resolved.json is not None
    assert resolved.json["code"] == code
    return document


@pytest.mark.parametrize(
    ("method", "path", "options", "status", "code"),
    [
        ("POST", "/test/echo", {"data": b"{", "headers": JSON}, 400, "request.not-json"),
        ("GET", "/v2/anything", {}, 404, "request.not-found"),
        ("GET", "/livez/", {}, 404, "request.not-found"),
        ("GET", "/v1//problems", {}, 404, "request.not-found"),
        ("GET", "/v1/problems/none.such", {}, 404, "request.not-found"),
        ("DELETE", "/livez", {}, 405, "request.method-not-allowed"),
        ("GET", "/test/echo", {}, 405, "request.method-not-allowed"),
        ("TRACE", "/livez", {}, 405, "request.method-not-allowed"),
        ("BREW", "/livez", {}, 405, "request.method-not-allowed"),
        ("GET", "/v1/problems", {"headers": {"Accept": "image/png"}}, 406, "request.not-acceptable"),
        ("POST", "/test/echo", {"data": b" " * 65_537, "headers": JSON}, 413, "request.too-large"),
        ("POST", "/test/echo", {"data": b"{}"}, 415, "request.media-type"),
        ("POST", "/test/refuse", {}, 422, "request.not-valid"),
        ("GET", "/test/boom", {}, 500, "server.internal-error"),
        ("GET", "/test/not-a-number", {}, 500, "server.internal-error"),
    ],
)
def test_every_refusal_has_the_documented_shape(
    client: FlaskClient, method: str, path: str, options: dict[str, Any], status: int, code: str
) -> None:
    check_problem(client, client.open(path, method=method, **options), status, code)


def test_method_not_allowed_keeps_allow(client: FlaskClient) -> None:
    assert client.get("/test/echo").headers["Allow"] == "OPTIONS, POST"
    assert client.post("/livez").headers["Allow"] == "GET, HEAD, OPTIONS"


def test_refused_reading_is_pointed_at(client: FlaskClient) -> None:
    assert client.post("/test/refuse").json["errors"] == [
        {
            "pointer": "/running/superheat",
            "code": "document.out-of-range",
            "detail": "Too low.",
            "allowed": ["0 to 100"],
        }
    ]


@pytest.mark.parametrize("path", ["/test/boom", "/test/not-a-number"])
def test_an_unexpected_exception_is_logged_and_never_told(
    client: FlaskClient, path: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, logger="service"):
        response = client.get(path)
    told = (response.data + str(response.headers).encode()).decode()
    for secret in (SECRET_TEXT, "RuntimeError", "ValueError", "Traceback", ".py", "nan", "/work", "Python"):
        assert secret not in told
    record = caplog.records[-1]
    assert record.exc_info is not None
    assert record.__dict__["request_id"] == response.headers["X-Request-Id"]


def test_head_and_options(client: FlaskClient) -> None:
    head, get = client.head("/v1/problems"), client.get("/v1/problems")
    assert head.status_code == 200
    assert head.data == b""
    assert head.headers["Content-Length"] == get.headers["Content-Length"]
    refused = client.head("/nowhere")
    assert (refused.status_code, refused.data) == (404, b"")
    options = client.options("/test/echo")
    assert (options.status_code, options.data) == (204, b"")
    assert set(options.headers["Allow"].split(", ")) == {"OPTIONS", "POST"}


@pytest.mark.parametrize(
    ("query", "code", "parameter"),
    [("stp=1", "query.unknown-parameter", "stp"), ("step=1&step=2", "query.repeated-parameter", "step")],
)
def test_a_query_parameter_nobody_reads_is_refused(
    client: FlaskClient, query: str, code: str, parameter: str
) -> None:
    document = check_problem(client, client.get(f"/test/text?{query}"), 422, "request.not-valid")
    entry = document["errors"][0]
    assert (entry["code"], entry["parameter"], entry["allowed"]) == (code, parameter, ["step"])
    assert client.get("/test/text?step=1").status_code == 200


def test_the_catalogue_lists_every_code_in_use(client: FlaskClient) -> None:
    listed = client.get("/v1/problems").json
    assert [row["code"] for row in listed["problems"]] == list(problem_types())
    codes = {row["code"] for row in listed["errors"]}
    assert codes == set(error_codes())
    for row in (*listed["problems"], *listed["errors"]):
        assert {"code", "title", "severity", "source", "since"} <= set(row)
    assert all(400 <= row["status"] < 600 for row in listed["problems"])


def _codes_made() -> Iterator[str]:
    """Every code that the serving code gives an error as a plain text."""
    places = {"Fault": 1, "FieldError": 1, "fault": 0}
    for file in Path(service.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", None) or getattr(node.func, "attr", None)
                code = node.args[places[name] :][:1] if name in places else []
                if code and isinstance(code[0], ast.Constant):
                    yield code[0].value


def test_every_code_that_an_error_is_given_is_listed() -> None:
    made = set(_codes_made())
    assert {"document.not-a-choice", "query.not-valid", "saturation.one-of-two", "document.unknown-member"} <= made
    assert made <= set(error_codes())


def test_at_most_fifty_errors_are_told_and_counted(client: FlaskClient) -> None:
    query = "&".join(f"p{number}=1" for number in range(80))
    problem = client.get(f"/test/text?{query}").json
    assert len(problem["errors"]) == 50
    assert problem["detail"].endswith("49 more in `errors`.")


def test_an_exception_outside_flask_is_answered_too(capsys: pytest.CaptureFixture[str]) -> None:
    app = make_app()
    app.wsgi_app._application = None
    response = app.test_client().get("/livez")
    assert response.status_code == 500
    assert json.loads(response.data)["code"] == "server.internal-error"
    assert "NoneType" not in response.text
    assert '"status":500' in capsys.readouterr().out
