"""The short way to a view answers as Flask's own does, and steps back where Flask has something to say."""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask, has_app_context, has_request_context
from flask.ctx import RequestContext
from flask.testing import FlaskClient

from service.wire import short_way
from tests.wire.conftest import make_app

JSON = "application/json"
REQUESTS: dict[str, tuple[str, str, dict[str, Any]]] = {
    "a probe": ("GET", "/livez", {}),
    "a probe, head alone": ("HEAD", "/livez", {}),
    "options": ("OPTIONS", "/v1/saturation", {}),
    "a list": ("GET", "/v1/problems", {}),
    "a path with a variable": ("GET", "/v1/problems/request.not-json", {}),
    "no such path": ("GET", "/nowhere", {}),
    "a wrong method": ("GET", "/v1/saturation", {}),
    "an unknown method": ("post", "/test/echo", {"data": b"{}", "content_type": JSON}),
    "a body": ("POST", "/test/echo", {"data": b'{"a":1}', "content_type": JSON}),
    "a broken body": ("POST", "/test/echo", {"data": b'{"a":', "content_type": JSON}),
    "a wrong media type": ("POST", "/test/echo", {"data": b"{}", "content_type": "text/plain"}),
    "a refused document": ("POST", "/test/refuse", {}),
    "an exception": ("GET", "/test/boom", {}),
    "an unknown query parameter": ("GET", "/test/text?page=1", {}),
    "a representation": ("GET", "/test/text", {"headers": {"Accept": "text/html", "Accept-Language": "es"}}),
    "no representation": ("GET", "/test/text", {"headers": {"Accept": "image/png"}}),
    "a stream": ("GET", "/test/stream", {}),
    "two slashes": ("GET", "//livez", {}),
    "a slash at the end": ("GET", "/livez/", {}),
    "an absent host": ("GET", "/livez", {"environ_overrides": {"HTTP_HOST": ""}}),
    "a host that is none": ("GET", "/livez", {"headers": {"Host": "a b"}}),
    "a label that is too long": ("GET", "/livez", {"headers": {"Host": f"{'a' * 64}.x"}}),
    "another protocol": ("GET", "/livez", {"headers": {"Connection": "Upgrade", "Upgrade": "websocket"}}),
    "a prefix": ("GET", "/livez", {"environ_overrides": {"SCRIPT_NAME": "/prefix"}}),
}


@pytest.fixture(scope="module")
def own_way() -> FlaskClient:
    """The same application without the short way."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(short_way, "fixed_rules", lambda *_: {})
        client = make_app().test_client()
        client.get("/livez")
    return client


def test_the_short_way_is_taken(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    client.get("/livez")
    monkeypatch.setattr(Flask, "full_dispatch_request", lambda _: pytest.fail("Flask's own way"))
    assert client.get("/livez").status_code == 200
    assert client.post("/test/echo", data=b"{}", content_type=JSON).data == b"{}"


@pytest.mark.parametrize("name", REQUESTS)
def test_both_ways_answer_the_same(client: FlaskClient, own_way: FlaskClient, name: str) -> None:
    method, path, members = REQUESTS[name]
    members = {**members, "headers": {"X-Request-Id": "one", **members.get("headers", {})}}
    client.get("/livez")
    short, own = (answer(each, path, method=method, **members) for each in (client, own_way))
    assert short == own


def answer(client: FlaskClient, path: str, **members: Any) -> tuple[str, bytes, list[tuple[str, str]]]:
    """Status, body and headers, read to the end before anybody else is asked."""
    found = client.open(path, **members)
    return found.status, found.data, sorted(found.headers)


def test_the_context_has_the_members_of_flasks_own() -> None:
    app = make_app()
    environ = app.test_request_context("/livez").request.environ
    rule = next(app.url_map.iter_rules())
    assert vars(short_way.KnownRuleContext(app, environ, rule)).keys() == vars(RequestContext(app, environ)).keys()


HOOKS = ("after_request", "before_request", "url_value_preprocessor", "teardown_request", "teardown_appcontext")


@pytest.mark.parametrize("decorate", HOOKS)
def test_an_app_with_other_hooks_has_no_short_way(decorate: str) -> None:
    app = make_app()
    called: list[str] = []

    def hook(*given: Any) -> Any:
        called.append(decorate)
        return given[0] if decorate == "after_request" else None

    getattr(app, decorate)(hook)
    client = app.test_client()
    assert [client.get("/livez").status_code for _ in range(3)] == [200] * 3
    assert len(called) == 3


def test_another_flask_takes_its_own_way(monkeypatch: pytest.MonkeyPatch) -> None:
    app = make_app()
    assert short_way.fixed_rules(app, *app.before_request_funcs[None])
    monkeypatch.setattr(short_way, "flask_version", lambda: "3.2.0")
    assert short_way.fixed_rules(app, *app.before_request_funcs[None]) == {}


def test_no_context_is_left_behind(client: FlaskClient) -> None:
    for path in ("/livez", "/test/boom", "/livez"):
        client.get(path)
        assert not has_request_context()
        assert not has_app_context()


def test_a_view_may_answer_in_any_way_that_flask_knows() -> None:
    app = make_app()
    app.view_functions["text"] = lambda: ("text", 201)
    client = app.test_client()
    answers = [client.get("/test/text") for _ in range(2)]
    assert [(answer.status_code, answer.data) for answer in answers] == [(201, b"text")] * 2
