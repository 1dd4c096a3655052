"""The committed document and its schemas, ready to hold answers against."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import jsonschema

from service.workshop.specification.document import DOCUMENT

METHODS = ("get", "post")


@cache
def contract() -> dict[str, Any]:
    """The committed OpenAPI document."""
    loaded: dict[str, Any] = json.loads(DOCUMENT.read_bytes())
    return loaded


def operations() -> list[tuple[str, str, dict[str, Any]]]:
    """(method, path, operation) of everything documented."""
    return [
        (method.upper(), path, item[method])
        for path, item in contract()["paths"].items()
        for method in METHODS
        if method in item
    ]


def answer_schema(operation: dict[str, Any]) -> dict[str, Any]:
    """The schema of the JSON answer of an operation."""
    schema: dict[str, Any] = operation["responses"]["200"]["content"]["application/json"]["schema"]
    return schema


@cache
def _closed_components() -> dict[str, Any]:
    """The components, in which an object has no member but those that the contract tells of.

    A reader lets unknown members pass; the service has no reason to send one.
    """

    def closed(node: Any) -> Any:
        if isinstance(node, list):
            return [closed(item) for item in node]
        if not isinstance(node, dict):
            return node
        made = {name: closed(item) for name, item in node.items()}
        if isinstance(node.get("properties"), dict) and node.get("type") == "object":
            made.setdefault("additionalProperties", False)
        return made

    return {**contract()["components"], "schemas": closed(contract()["components"]["schemas"])}


def faults(instance: Any, schema: dict[str, Any]) -> list[str]:
    """What an instance has otherwise than a schema of the document says."""
    return [
        f"{error.json_path}: {error.message}" for error in _validator(json.dumps(schema)).iter_errors(instance)
    ]


@cache
def _validator(schema: str) -> jsonschema.Draft202012Validator:
    """Made once for a schema: to look up every reference anew takes longer than the answer itself."""
    return jsonschema.Draft202012Validator({**json.loads(schema), "components": _closed_components()})
