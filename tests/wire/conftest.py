"""An application with a few extra routes, so that the HTTP layer is tried without any endpoint of the trade."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service.app import create_app
from service.results.refusal import FieldError, Refusal
from service.settings import Settings
from service.wire import observe
from service.wire.described import Parameter
from service.wire.gate import produces, query_parameters
from service.wire.reading import language, read_document, representation
from service.wire.responding import respond, send, stream

SECRET_TEXT = "/srv/secret/path.py SecretClass 9.9.9"


def make_app(**members: Any) -> Flask:
    """The service with settings of the test, and routes that do one thing each."""
    app = create_app(Settings(**members))

    @app.post("/test/echo")
    def echo() -> Any:
        return respond(read_document())

    @app.post("/test/large")
    def large() -> Any:
        return respond({"members": len(read_document(limit=8 * 1024 * 1024))})

    @app.get("/test/boom")
    def boom() -> Any:
        raise RuntimeError(SECRET_TEXT)

    @app.get("/test/not-a-number")
    def not_a_number() -> Any:
        return respond({"value": float("nan")})

    @app.post("/test/refuse")
    def refuse() -> Any:
        entry = FieldError("/running/superheat", "document.out-of-range", "Too low.", ("0 to 100",))
        raise Refusal((entry,))

    @app.get("/test/findings")
    def findings() -> Any:
        observe.findings(["capacitor.low", "capacitor.low", "charge.superheat-high"])
        return respond({})

    @app.get("/test/text")
    @produces("application/json", "text/html")
    @query_parameters(Parameter("step", "Step between two rows.", (("type", "number"),), 1))
    def text() -> Any:
        if representation("application/json", "text/html") == "text/html":
            return send(b"<p>", "text/html; charset=utf-8", language=language())
        return respond({"language": language()}, language=language())

    @app.get("/test/stream")
    def streamed() -> Any:
        return stream((b"%d\n" % number for number in range(3)), "application/x-ndjson")

    return app


@pytest.fixture(scope="session")
def client() -> FlaskClient:
    """A client of the service with default settings."""
    return make_app().test_client()


@pytest.fixture
def log_lines(capsys: pytest.CaptureFixture[str]) -> Callable[[], list[dict[str, Any]]]:
    """What has been logged since the last call, each line parsed; a line that is not JSON fails the test."""
    return lambda: [json.loads(line) for line in capsys.readouterr().out.splitlines()]
