"""Answers: the same bytes every time, lists that can be cached, headers for what is going away."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from flask import Response
from flask.testing import FlaskClient

from service.wire.responding import deprecated, encode


def test_same_request_gives_the_same_bytes(client: FlaskClient) -> None:
    body = b'{"b":1,"a":{"d":[1,2.5,"\xc3\xa9"],"c":true}}'
    first, second = (client.post("/test/echo", data=body, content_type="application/json") for _ in range(2))
    assert first.data == second.data == body


def test_nan_never_leaves() -> None:
    for number in (float("nan"), float("inf"), float("-inf")):
        with pytest.raises(ValueError, match="Out of range"):
            encode({"value": number})


def test_what_is_not_plain_json_is_refused_and_null_is_null() -> None:
    assert encode({"value": None}) == b'{"value":null}'
    with pytest.raises(TypeError):
        encode({"value": object()})


def test_a_list_is_cached_by_strong_etag(client: FlaskClient) -> None:
    first = client.get("/v1/problems")
    etag = first.headers["ETag"]
    assert etag.startswith('"')
    assert "max-age" in first.headers["Cache-Control"]
    again = client.get("/v1/problems", headers={"If-None-Match": etag})
    assert (again.status_code, again.data, again.headers["ETag"]) == (304, b"", etag)
    assert client.get("/v1/problems", headers={"If-None-Match": '"other"'}).status_code == 200
    assert client.get("/v1/problems", headers={"If-None-Match": f"W/{etag}"}).status_code == 304
    assert "Date" not in first.headers  # the HTTP server states it; twice would be wrong


def test_answers_are_not_stored(client: FlaskClient) -> None:
    assert client.get("/livez").headers["Cache-Control"] == "no-store"
    assert client.get("/nowhere").headers["Cache-Control"] == "no-store"


def test_no_body_is_taken_for_another_media_type(client: FlaskClient) -> None:
    for path in ("/livez", "/nowhere", "/v1/problems", "/test/stream", "/test/boom"):
        assert client.get(path).headers.getlist("X-Content-Type-Options") == ["nosniff"]


def test_deprecation_headers() -> None:
    """Forms as in the examples of RFC 9745 section 2.1 and RFC 8594 section 3."""
    response = deprecated(Response(), datetime(2023, 6, 30, 23, 59, 59, tzinfo=UTC))
    assert response.headers["Deprecation"] == "@1688169599"
    assert "Sunset" not in response.headers
    sunset = datetime(2018, 12, 31, 23, 59, 59, tzinfo=UTC)
    response = deprecated(Response(), datetime(2018, 11, 11, 11, 11, 11, tzinfo=UTC), sunset)
    assert response.headers["Sunset"] == "Mon, 31 Dec 2018 23:59:59 GMT"


def test_a_stream_arrives_whole_and_in_order(client: FlaskClient) -> None:
    response = client.get("/test/stream")
    assert response.data == b"0\n1\n2\n"
    assert response.content_type == "application/x-ndjson"
