"""What in a newer contract would break a client of an older one. Inside v1 things are only added."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

Schema = dict[str, Any]
UPPER = ("maximum", "maxLength", "maxItems")
LOWER = ("minimum", "minLength", "minItems")
METHODS = ("get", "post")
ECHOES = {"UnitsAnswer"}
"""Schemas of answers that repeat what the caller chose: a new word comes to those who sent it only."""


def breaking_changes(old: dict[str, Any], new: dict[str, Any]) -> list[str]:
    """Everything that a client of the old document would stumble over in the new one."""
    return [*_operations(old, new), *_schemas(old, new)]


def _operations(old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    for path, item in old["paths"].items():
        for method in METHODS:
            if method in item:
                now = new["paths"].get(path, {}).get(method)
                where = f"{method.upper()} {path}"
                if now is None:
                    yield f"{where} is gone"
                else:
                    yield from _operation(where, item[method], now, old, new)


def _operation(where: str, was: Schema, now: Schema, old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    if was["operationId"] != now["operationId"]:
        yield f"{where}: operationId {was['operationId']} is now {now['operationId']}"
    for status, response in was["responses"].items():
        if status not in now["responses"]:
            yield f"{where}: status {status} is gone"
        for media in response.get("content", {}):
            if media not in now["responses"].get(status, {}).get("content", {}):
                yield f"{where}: {status} is no longer offered as {media}"
    before = {item["name"]: item for item in _parameters(was, old)}
    after = {item["name"]: item for item in _parameters(now, new)}
    for name in before.keys() - after.keys():
        yield f"{where}: parameter {name} is gone"
    for name, item in after.items():
        if item["required"] and not before.get(name, {"required": False})["required"]:
            yield f"{where}: parameter {name} is now required"


def _parameters(operation: Schema, document: dict[str, Any]) -> list[Schema]:
    shared = document["components"]["parameters"]
    return [
        shared[item["$ref"].rsplit("/", 1)[1]] if "$ref" in item else item
        for item in operation.get("parameters", [])
    ]


def _schemas(old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    now = new["components"]["schemas"]
    for name, schema in old["components"]["schemas"].items():
        if name not in now:
            yield f"schema {name} is gone"
        else:
            grows = schema.get("additionalProperties") is False or name in ECHOES
            yield from _schema(name, schema, now[name], grows=grows)


def _schema(where: str, was: Schema, now: Schema, *, grows: bool) -> Iterator[str]:
    """grows: new words are for those who send them; a client that reads has a type for the old ones."""
    for key in ("type", "$ref", "const", "format"):
        if was.get(key) != now.get(key):
            yield f"{where}: {key} {was.get(key)} is now {now.get(key)}"
    lost = [word for word in was.get("enum", []) if word not in now.get("enum", [])]
    if lost:
        yield f"{where}: {lost} gone from the list"
    gained = [word for word in now.get("enum", []) if word not in was.get("enum", [])]
    if gained and "enum" in was and not grows:
        yield f"{where}: {gained} new in the closed list of an answer"
    yield from _required(where, was, now)
    yield from _limits(where, was, now)
    for name, inner in was.get("properties", {}).items():
        if name not in now.get("properties", {}):
            yield f"{where}.{name} is gone"
        else:
            yield from _schema(f"{where}.{name}", inner, now["properties"][name], grows=grows)
    if "items" in was:
        yield from _schema(f"{where}[]", was["items"], now.get("items", {}), grows=grows)


def _required(where: str, was: Schema, now: Schema) -> Iterator[str]:
    before, after = set(was.get("required", [])), set(now.get("required", []))
    is_request = was.get("additionalProperties") is False
    changed = after - before if is_request else before - after
    for name in sorted(changed):
        yield f"{where}.{name} is {'now' if is_request else 'no longer'} required"


def _limits(where: str, was: Schema, now: Schema) -> Iterator[str]:
    for key in (*UPPER, *LOWER):
        if key in now and (key not in was or _tighter(key, was[key], now[key])):
            yield f"{where}: {key} {was.get(key)} is now {now[key]}"


def _tighter(key: str, was: float, now: float) -> bool:
    return now < was if key in UPPER else now > was
