"""What an entry of the table of operations says about an endpoint."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

JSON = "application/json"
NDJSON = "application/x-ndjson"
POST_PROBLEMS = (400, 401, 405, 406, 408, 413, 415, 422, 429, 500, 503)
GET_PROBLEMS = (401, 405, 406, 422, 429, 500, 503)
PROBE_PROBLEMS = (405, 500)


@dataclass(frozen=True)
class Example:
    """A request whose real answer goes into the document.

    name: of the example; said: what it shows; body: a file of samples/; path and query: parameters of a GET;
    language: asked for by Accept-Language. A test holds each one as a golden case.
    """

    name: str
    said: str
    body: str = ""
    path: tuple[tuple[str, str], ...] = ()
    query: tuple[tuple[str, str], ...] = ()
    language: str = "en"


@dataclass(frozen=True)
class Parameter:
    """A path or query parameter."""

    name: str
    where: str
    said: str
    schema: tuple[tuple[str, Any], ...]
    example: Any


@dataclass(frozen=True)
class Operation:
    """An endpoint.

    method, path (Flask's form), operation_id, tag, summary, description; request: the declared dataclass of the
    body, None for a GET; other_request_media: in which a body may come that is no single
    JSON document, body_text: what it is then, other_examples: of it; answer: its shape, None
    for a text; others: further media types of the answer;
    cached: has an ETag; without_key: asks for none; spoken: depends on Accept-Language.
    """

    method: str
    path: str
    operation_id: str
    tag: str
    summary: str
    description: str
    answer: type | None = None
    request: type | None = None
    body_text: str = ""
    other_request_media: str = ""
    other_examples: tuple[Example, ...] = ()
    media: str = JSON
    others: tuple[str, ...] = ()
    parameters: tuple[Parameter, ...] = ()
    examples: tuple[Example, ...] = ()
    problems: tuple[int, ...] = GET_PROBLEMS
    cached: bool = False
    spoken: bool = False
    without_key: bool = False

    @property
    def template(self) -> str:
        """The path as OpenAPI writes it."""
        return self.path.replace("<", "{").replace(">", "}")


def posted(path: str, operation_id: str, tag: str, summary: str, description: str, **details: Any) -> Operation:
    """A POST of a JSON document."""
    details = {"problems": POST_PROBLEMS, "spoken": True, **details}
    return Operation("POST", path, operation_id, tag, summary, description, **details)


def listed(path: str, operation_id: str, tag: str, summary: str, description: str, **details: Any) -> Operation:
    """A GET of something that changes only with the version."""
    return Operation("GET", path, operation_id, tag, summary, description, cached=True, **details)


def probed(path: str, operation_id: str, summary: str, description: str, **details: Any) -> Operation:
    """A GET for the operators; it asks for no key."""
    details = {"problems": PROBE_PROBLEMS, "without_key": True, **details}
    return Operation("GET", path, operation_id, "Operations", summary, description, **details)
