"""The OpenAPI 3.1 document, made from the declarations, the table of operations and real answers."""

from __future__ import annotations

import json
from typing import Any

from service.schemas.lists.problems import Problem
from service.wire.described import Example, Parameter
from service.workshop.specification import fixed
from service.workshop.specification.asking import ROOT, answer_of, request_of, shown
from service.workshop.specification.members import Components, Schema
from service.workshop.specification.operation import JSON, NDJSON, TAGS, Operation, operations
from service.workshop.specification.refusing import NAMES, problem_responses

DOCUMENT = ROOT / "openapi" / "openapi.json"
SHOWN_MEDIA = (JSON, NDJSON, "text/csv")


def document_bytes() -> bytes:
    """The document as it is committed and served; the same code gives the same bytes."""
    return (json.dumps(build(), indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def build() -> dict[str, Any]:
    """The document."""
    components = Components()
    paths: dict[str, Any] = {}
    for operation in operations():
        paths.setdefault(operation.template, {})[operation.method.lower()] = _operation(operation, components)
    responses = problem_responses(components.reference(Problem, closed=False))
    return {
        "openapi": "3.1.0",
        "info": fixed.info(),
        "servers": [{"url": "/", "description": "The service that served this document."}],
        "security": [{}, {"ApiKey": []}],
        "tags": [{"name": name, "description": said} for name, said in TAGS.items()],
        "paths": paths,
        "components": {
            "schemas": dict(sorted(components.schemas.items())),
            "responses": responses,
            "parameters": fixed.PARAMETERS,
            "headers": fixed.HEADERS,
            "securitySchemes": fixed.SECURITY_SCHEMES,
        },
    }


def _operation(operation: Operation, components: Components) -> dict[str, Any]:
    made: dict[str, Any] = {
        "operationId": operation.operation_id,
        "tags": [operation.tag],
        "summary": operation.summary,
        "description": operation.description,
    }
    if operation.without_key:
        made["security"] = [{}]
    made["parameters"] = [_parameter(item, operation) for item in operation.parameters] + _header_parameters(
        operation
    )
    if operation.request is not None:
        made["requestBody"] = _request_body(operation, components)
    made["responses"] = {"200": _success(operation, components)}
    if operation.described.leads:
        made["responses"]["302"] = fixed.led(operation.described.leads)
    if operation.cached:
        made["responses"]["304"] = fixed.NOT_MODIFIED
    for status in operation.problems:
        made["responses"][str(status)] = {"$ref": f"#/components/responses/{NAMES[status]}"}
    return made


def _parameter(parameter: Parameter, operation: Operation) -> dict[str, Any]:
    in_path = parameter in operation.described.path
    return {
        "name": parameter.name,
        "in": "path" if in_path else "query",
        "required": in_path,
        "description": parameter.said,
        "schema": dict(parameter.schema),
        "example": parameter.example,
    }


def _header_parameters(operation: Operation) -> list[dict[str, str]]:
    names = ["RequestId"]
    if operation.described.tag != "Operations":
        names += ["AcceptLanguage"]  # problems are in a language everywhere
    names += ["IfNoneMatch"] if operation.cached else []
    return [{"$ref": f"#/components/parameters/{name}"} for name in names]


def _request_body(operation: Operation, components: Components) -> dict[str, Any]:
    assert operation.request is not None
    schema = components.reference(operation.request, closed=True)
    content = {JSON: {"schema": schema, "examples": _asked(operation.examples)}}
    described = operation.described
    if described.other_request_media:
        text = {"type": "string", "description": described.body_text}
        content[described.other_request_media] = {"schema": text, "examples": _asked(described.other_examples)}
    said = fixed.BATCH_BODY if described.other_request_media else fixed.BODY
    return {"required": True, "description": said, "content": content}


def _asked(examples: tuple[Example, ...]) -> dict[str, Any]:
    return {item.name: {"summary": item.said, "value": request_of(item)} for item in examples}


def _success(operation: Operation, components: Components) -> dict[str, Any]:
    headers = ["X-Request-Id", "X-Edition", *(["ETag", "Cache-Control"] if operation.cached else [])]
    headers += ["Content-Language"] if operation.described.spoken else []
    headers += [] if operation.for_operators else ["Server-Timing", "Vary", "Deprecation", "Sunset"]
    usual, *others = operation.media
    content = {usual: _content(operation, components)}
    for media in others:
        content[media] = {"schema": {"type": "string"}, **_shown_answers(operation, media)}
    return {
        "description": operation.summary + ".",
        "headers": {name: {"$ref": f"#/components/headers/{name}"} for name in headers},
        "content": content,
    }


def _content(operation: Operation, components: Components) -> dict[str, Any]:
    if operation.answer is None:
        usual = operation.media[0]
        plain = {"schema": {"type": "object" if usual == JSON else "string"}}
        return plain | _shown_answers(operation, usual)
    schema: Schema = components.reference(operation.answer, closed=False)
    return {"schema": schema, **_shown_answers(operation, JSON)}


def _shown_answers(operation: Operation, media: str) -> dict[str, Any]:
    """The real answers of the examples; pictures and pages are too long for a contract."""
    if media not in SHOWN_MEDIA or not operation.examples:
        return {}
    described = operation.described
    examples = described.other_examples if media == described.other_request_media else described.examples
    return {"examples": {item.name: _answer(operation, item, media) for item in examples}}


def _answer(operation: Operation, item: Example, media: str) -> dict[str, Any]:
    return {"summary": item.said, "value": shown(answer_of(operation, item, media), operation)}
