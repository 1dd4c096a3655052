"""What may be posted, and in which words the answer comes back."""

from __future__ import annotations

import io
from typing import Any

import pytest
from flask.testing import FlaskClient


def post(client: FlaskClient, body: bytes, content_type: str | None, **options: Any) -> int:
    return client.post("/test/echo", data=body, content_type=content_type, **options).status_code


@pytest.mark.parametrize(
    "content_type",
    [
        "application/json",
        "application/json; charset=utf-8",
        "application/json;charset=UTF-8",
        'application/json; charset="utf-8"',
        "Application/JSON",
    ],
)
def test_json_in_utf_8_is_read(client: FlaskClient, content_type: str) -> None:
    assert post(client, b'{"a":1}', content_type) == 200


@pytest.mark.parametrize(
    "content_type",
    [
        None,
        "",
        "text/plain",
        "text/json",
        "application/x-www-form-urlencoded",
        "multipart/form-data; boundary=x",
        "application/json; charset=latin-1",
        "application/json; profile=x",
        "application/problem+json",
        "application/json, text/plain",
        "json",
    ],
)
def test_any_other_media_type_is_refused(client: FlaskClient, content_type: str | None) -> None:
    assert post(client, b'{"a":1}', content_type) == 415


@pytest.mark.parametrize("encoding", ["gzip", "br", "identity", "deflate, gzip"])
def test_any_content_encoding_is_refused(client: FlaskClient, encoding: str) -> None:
    assert post(client, b'{"a":1}', "application/json", headers={"Content-Encoding": encoding}) == 415


def test_size_limit_is_exact(client: FlaskClient) -> None:
    text = b'{"a":"' + b"x" * (65_536 - 8) + b'"}'
    assert len(text) == 65_536
    assert post(client, text, "application/json") == 200
    assert post(client, text + b" ", "application/json") == 413


def test_a_route_may_read_more(client: FlaskClient) -> None:
    text = b'{"a":"' + b"x" * 1_000_000 + b'"}'
    assert client.post("/test/large", data=text, content_type="application/json").status_code == 200


def test_size_limit_holds_without_a_length(client: FlaskClient) -> None:
    def chunked(size: int) -> int:
        body = io.BytesIO(b'{"a":"' + b"x" * size + b'"}')
        environ = {"wsgi.input_terminated": True, "HTTP_TRANSFER_ENCODING": "chunked"}
        return post(client, b"", "application/json", input_stream=body, environ_overrides=environ)

    assert chunked(100) == 200
    assert chunked(70_000) == 413


def test_a_body_that_ends_early_is_refused(client: FlaskClient) -> None:
    class Cut(io.BytesIO):
        pass

    environ = {"wsgi.input_terminated": True, "CONTENT_LENGTH": "50"}
    response = client.post(
        "/test/echo", input_stream=Cut(b'{"a":1}'), content_type="application/json", environ_overrides=environ
    )
    assert response.status_code == 400
    assert response.json["errors"][0]["code"] == "json.truncated"


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [
        (None, "application/json"),
        ("*/*", "application/json"),
        ("application/json", "application/json"),
        ("text/html", "text/html; charset=utf-8"),
        ("text/html, application/json;q=0.9", "text/html; charset=utf-8"),
        ("text/*", "text/html; charset=utf-8"),
        ("text/html;q=0, */*", "application/json"),
        ("application/*;q=0.2, image/png", "application/json"),
    ],
)
def test_accept_chooses_the_representation(client: FlaskClient, accept: str | None, media_type: str) -> None:
    headers = {} if accept is None else {"Accept": accept}
    response = client.get("/test/text", headers=headers)
    assert (response.status_code, response.content_type) == (200, media_type)


@pytest.mark.parametrize(
    "accept", ["image/png", "application/xml", "application/json;q=0", "application/problem+json"]
)
def test_accept_without_anything_on_offer_is_refused(client: FlaskClient, accept: str) -> None:
    assert client.get("/v1/problems", headers={"Accept": accept}).status_code == 406


@pytest.mark.parametrize(
    ("accepted", "language"),
    [
        (None, "en"),
        ("es", "es"),
        ("es-MX, en;q=0.5", "es"),
        ("en-US, es;q=0.9", "en"),
        ("fr, de", "en"),
        ("fr, es;q=0.1", "es"),
        ("*", "en"),
        ("es;q=0, *", "en"),
        ("%%%", "en"),
    ],
)
def test_accept_language_chooses_the_language(client: FlaskClient, accepted: str | None, language: str) -> None:
    response = client.get("/test/text", headers={} if accepted is None else {"Accept-Language": accepted})
    assert response.json == {"language": language}
    assert response.headers["Content-Language"] == language
    assert "Accept-Language" in response.headers["Vary"]
