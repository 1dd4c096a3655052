"""The problem responses of the document, each with the examples that the service really answers."""

from __future__ import annotations

import json
from typing import Any

from service.knowledge.problem_types import problem_types
from service.wire.problems import MEDIA_TYPE, ProblemError, document
from service.words.locale import DEFAULT
from service.words.refusing import problem_title
from service.workshop.specification.asking import REQUEST_ID, quietly

SATURATION = "/v1/saturation"
_POST: dict[str, Any] = {"method": "POST", "path": SATURATION}
_JSON = {"content_type": "application/json"}
NAMES = {
    400: "NotJson",
    401: "KeyRequired",
    404: "NotFound",
    405: "MethodNotAllowed",
    406: "NotAcceptable",
    408: "TooSlow",
    413: "TooLarge",
    415: "MediaType",
    422: "NotValid",
    429: "TooMany",
    500: "InternalError",
    503: "Unavailable",
}
HEADERS = {401: "WWW-Authenticate", 405: "Allow", 429: "Retry-After", 503: "Retry-After"}
# name of the example -> how it is provoked
PROVOKED: dict[str, dict[str, Any]] = {
    "syntax": {**_POST, **_JSON, "data": b'{"refrigerant": R-410A}'},
    "duplicate name": {**_POST, **_JSON, "data": b'{"refrigerant":"R-22","refrigerant":"R-32"}'},
    "not a number": {**_POST, **_JSON, "data": b'{"refrigerant":"R-22","points":[{"pressure":NaN}]}'},
    "too deep": {**_POST, **_JSON, "data": b'{"points":' + b"[" * 40 + b"]" * 40 + b"}"},
    "no key": {"method": "GET", "path": "/v1/refrigerants", "keys": frozenset({"example:" + "0" * 64})},
    "unknown refrigerant": {"method": "GET", "path": "/v1/refrigerants/R-999"},
    "method not allowed": {"method": "GET", "path": SATURATION},
    "no such representation": {"method": "GET", "path": "/v1/refrigerants", "headers": {"Accept": "text/html"}},
    "too large": {**_POST, **_JSON, "data": b" " * 65537},
    "media type": {**_POST, "content_type": "text/plain", "data": b"{}"},
    "compressed body": {**_POST, **_JSON, "data": b"{}", "headers": {"Content-Encoding": "gzip"}},
    "unknown member": {**_POST, "json": {"refrigerant": "R-410A", "points": [{"presure": 118}]}},
    "a text is not a number": {**_POST, "json": {"refrigerant": "R-410A", "points": [{"pressure": "118"}]}},
    "refrigerant that is not known": {**_POST, "json": {"refrigerant": "R-999", "points": [{"pressure": 118}]}},
    "outside the refrigerant's range": {**_POST, "json": {"refrigerant": "R-410A", "points": [{"pressure": 900}]}},
    "not above zero absolute": {**_POST, "json": {"refrigerant": "R-410A", "points": [{"pressure": -20}]}},
    "unknown query parameter": {"method": "GET", "path": "/v1/refrigerants?page=2"},
}
# Problems that a test client cannot provoke, shown as the service writes them.
RENDERED = {
    "too slow": "request.too-slow",
    "too many, said by a proxy": "request.too-many",
    "internal error": "server.internal-error",
    "full": "server.full",
    "not ready": "server.not-ready",
    "draining": "server.draining",
}


def problem_responses(problem: dict[str, Any]) -> dict[str, Any]:
    """components/responses: name -> response; `problem` is the $ref of the problem document's schema."""
    shown: dict[int, dict[str, Any]] = {status: {} for status in NAMES}
    for name, body in _examples().items():
        shown[body["status"]][name.replace(" ", "-").replace("'", "").replace(",", "")] = {
            "summary": name,
            "value": body,
        }
    return {NAMES[status]: _response(status, examples, problem) for status, examples in sorted(shown.items())}


def _response(status: int, examples: dict[str, Any], problem: dict[str, Any]) -> dict[str, Any]:
    titles = [problem_title(kind.code, DEFAULT) for kind in problem_types().values() if kind.status == status]
    headers = {name: {"$ref": f"#/components/headers/{name}"} for name in ("X-Request-Id", "Content-Language")}
    if status in HEADERS:
        headers[HEADERS[status]] = {"$ref": f"#/components/headers/{HEADERS[status]}"}
    return {
        "description": f"{'; or: '.join(titles)}.",
        "headers": headers,
        "content": {MEDIA_TYPE: {"schema": problem, "examples": examples}},
    }


def _examples() -> dict[str, dict[str, Any]]:
    found = {}
    for name, request in PROVOKED.items():
        found[name] = json.loads(quietly(**request).get_data())
    for name, code in RENDERED.items():
        found[name] = document(ProblemError(code), REQUEST_ID)
    return found
