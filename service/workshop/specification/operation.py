"""The operations of the contract, as the routes of the application describe them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from flask import Flask
from werkzeug.routing import Rule

from service.app import create_app
from service.results.record import Record
from service.wire.described import MARK, Description, Example, Parameter

JSON = "application/json"
NDJSON = "application/x-ndjson"
TAGS = {
    "Visits": "One visit document, many questions.",
    "Procedures": "Repair procedures that compute.",
    "Properties": "Refrigerants and their saturation lines.",
    "Code lists": "Every code that an answer may carry, with its source.",
    "Contract": "This document and the pages made from it.",
    "Operations": "Probes, versions and metrics.",
}


class Operation(Record):
    """An endpoint: its method and path (Flask's form), and the view that answers it."""

    method: str
    path: str
    view: Any

    @property
    def described(self) -> Description:
        """What the view says of itself."""
        made: Description = getattr(self.view, MARK)
        return made

    @property
    def operation_id(self) -> str:
        """Its name in clients."""
        return self.described.operation_id

    @property
    def tag(self) -> str:
        """The chapter of the contract."""
        return self.described.tag

    @property
    def request(self) -> type | None:
        """The declared record of the body."""
        return self.described.request

    @property
    def answer(self) -> type | None:
        """The shape of a JSON answer."""
        return self.described.answer

    @property
    def examples(self) -> tuple[Example, ...]:
        """Requests whose answers are shown."""
        return self.described.examples

    @property
    def template(self) -> str:
        """The path as OpenAPI writes it."""
        return self.path.replace("<", "{").replace(">", "}")

    @property
    def summary(self) -> str:
        """The first line of the view's docstring."""
        return _docstring(self.view)[0].removesuffix(".")

    @property
    def description(self) -> str:
        """What follows in the docstring, as one paragraph."""
        return " ".join(" ".join(_docstring(self.view)[1:]).split())

    @property
    def media(self) -> tuple[str, ...]:
        """Media types of the answer, the usual one first."""
        return self.described.shows or getattr(self.view, "media_types", (JSON,))

    @property
    def parameters(self) -> tuple[Parameter, ...]:
        """Those of the path, then those of the query."""
        return (*self.described.path, *getattr(self.view, "query_parameters", {}).values())

    @property
    def for_operators(self) -> bool:
        """Whether it is a probe, open to all."""
        return bool(getattr(self.view, "open_to_all", False))

    @property
    def without_key(self) -> bool:
        """Whether it asks for no key."""
        return self.for_operators or bool(getattr(self.view, "without_key", False))

    @property
    def cached(self) -> bool:
        """Whether it has an ETag: a GET of something that changes only with the version."""
        return self.method == "GET" and not self.for_operators

    @property
    def problems(self) -> tuple[int, ...]:
        """Statuses of the problem documents that it may answer."""
        found = {405, 500, *self.described.also}
        if not self.for_operators:
            found |= {406, 422, 429, 503}
        if not self.without_key:
            found.add(401)
        if self.method == "POST":
            found |= {400, 408, 413, 415}
        if self.described.path:
            found.add(404)
        return tuple(sorted(found))


def _docstring(view: Any) -> list[str]:
    return [line.strip() for line in (view.__doc__ or "").strip().splitlines()]


def operations_of(application: Flask) -> tuple[Operation, ...]:
    """Every described route, by the chapters of the contract, in the order in which they are registered.

    Raises: ValueError for a chapter that is not known.
    """
    found = list(_routes(application))
    strange = {item.tag for item in found} - set(TAGS)
    if strange:
        raise ValueError(f"chapters without a description in TAGS: {sorted(strange)}")
    return tuple(sorted(found, key=lambda item: list(TAGS).index(item.tag)))


def _routes(application: Flask) -> Iterator[Operation]:
    for rule in application.url_map.iter_rules():
        view = application.view_functions[rule.endpoint]
        if hasattr(view, MARK):
            yield Operation(_method(rule), rule.rule, view)


def _method(rule: Rule) -> str:
    (method,) = (rule.methods or set()) - {"HEAD", "OPTIONS"}
    return method


@cache
def operations() -> tuple[Operation, ...]:
    """The operations of the service as it is started without settings."""
    return operations_of(create_app())
