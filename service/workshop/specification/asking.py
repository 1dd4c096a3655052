"""Asks the application in-process, so that the examples of the document are real answers."""

from __future__ import annotations

import contextlib
import io
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient

from service.app import create_app
from service.results.contract import CONTRACT
from service.settings import Settings
from service.wire.described import Example
from service.workshop.specification.operation import JSON, Operation

ROOT = Path(__file__).parents[3]
REQUEST_ID = "example"
SHOWN_ROWS = 3
# Answers name the editions that gave them; in examples they are zeros, or every change of knowledge would change
# the document.
EDITIONS = {
    "service": "1.0.0",
    "contract": CONTRACT,
    "edition": "0" * 16,
    "knowledge": "0" * 12,
    "properties": "CoolProp 8.0.0, tables " + "0" * 12,
}


_PROVENANCE = re.compile(r'"provenance":\{[^{}]*\}')


@cache
def client(keys: frozenset[str] = frozenset()) -> FlaskClient:
    """A client of the application, which stands above this room and is asked by name, as from outside."""
    asked: FlaskClient = create_app(Settings(api_keys=keys)).test_client()
    return asked


def quietly(method: str, path: str, keys: frozenset[str] = frozenset(), **details: Any) -> Any:
    """One request; the log line of the application goes nowhere."""
    headers = {"X-Request-Id": REQUEST_ID, **details.pop("headers", {})}
    with contextlib.redirect_stdout(io.StringIO()):
        response = client(keys).open(path, method=method, headers=headers, **details)
        response.get_data()  # a streamed answer is finished, and logged, while nobody listens
        return response


def request_of(example: Example) -> Any:
    """The body of an example, from a file of samples/; text where it is no single JSON document."""
    text = (ROOT / "samples" / example.body).read_text(encoding="utf-8")
    return json.loads(text) if example.body.endswith(".json") else text


def answer_of(operation: Operation, example: Example, media: str = JSON) -> Any:
    """The real answer of an example. Raises: ValueError when it is not 200."""
    path = operation.template.format(**dict(example.path))
    headers = {"Accept": media, "Accept-Language": example.language}
    details: dict[str, Any] = {"headers": headers, "query_string": dict(example.query)}
    if media == operation.described.other_request_media:
        details |= {"data": request_of(example), "content_type": media}
    elif operation.request is not None:
        details["json"] = request_of(example)
    response = quietly(operation.method, path, **details)
    if response.status_code != 200:
        raise ValueError(f"{operation.operation_id}, {example.name}: {response.get_data(as_text=True)}")
    return response.get_json() if media == JSON else response.get_data(as_text=True)


def shown(answer: Any, operation: Operation) -> Any:
    """An answer as the document shows it: editions as zeros, long lists of a GET cut."""
    if isinstance(answer, str):
        return _PROVENANCE.sub('"provenance":' + json.dumps(EDITIONS, separators=(",", ":")), answer)
    shown: dict[str, Any] = _without_editions(answer)
    if operation.answer is not None and operation.operation_id == "showVersion":
        shown = {**EDITIONS, "commit": answer["commit"]}
    if operation.method == "GET":
        shown = {name: value[:SHOWN_ROWS] if isinstance(value, list) else value for name, value in shown.items()}
    return shown


def _without_editions(value: Any) -> Any:
    if isinstance(value, list):
        return [_without_editions(item) for item in value]
    if isinstance(value, dict):
        return {
            name: EDITIONS if name == "provenance" else _without_editions(item) for name, item in value.items()
        }
    return value
