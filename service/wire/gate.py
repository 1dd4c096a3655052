"""What every request must pass before its route runs: key, query parameters, representation."""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Callable
from typing import Any, TypeVar

from flask import Flask, request

from service.results.refusal import FieldError
from service.settings import Settings
from service.wire.problems import ProblemError
from service.wire.reading import representation, request_object
from service.wire.short_way import ShortWay

View = TypeVar("View", bound=Callable[..., Any])
ROUTE = "service.route"
"""Where the outermost layer finds the template of the matched route."""


def query_parameters(*names: str) -> Callable[[View], View]:
    """Declare the query parameters that a view reads; without it, none is accepted."""
    return _marking("accepted_parameters", frozenset(names))


def produces(*media_types: str) -> Callable[[View], View]:
    """Declare what a view can answer with, the first by default; without it, application/json."""
    return _marking("media_types", media_types)


def open_to_all(view: View) -> View:
    """Declare a view that asks for no API key and no particular Accept: probes and metrics."""
    view.open_to_all = True  # type: ignore[attr-defined]
    return view


def without_key(view: View) -> View:
    """Declare a view that asks for no API key: the contract and the pages that explain it."""
    view.without_key = True  # type: ignore[attr-defined]
    return view


def install(app: Flask, settings: Settings) -> None:
    """Make the app pass each request through the gate."""
    digests = [bytes.fromhex(key) for key in settings.api_keys]
    operations_port = (settings.operations_bind or "").rpartition(":")[2]

    views = app.view_functions

    def pass_gate() -> None:
        current = request_object()
        rule, environ = current.url_rule, current.environ
        view = None if rule is None else views.get(rule.endpoint)
        if rule is not None:
            environ[ROUTE] = rule.rule
        is_open = getattr(view, "open_to_all", False)
        if operations_port and is_open != (environ.get("SERVER_PORT") == operations_port):
            raise ProblemError("request.not-found")
        if is_open:
            return
        if digests and not getattr(view, "without_key", False):
            _require_key(digests)
        if view is not None and environ["REQUEST_METHOD"] != "OPTIONS":
            if environ.get("QUERY_STRING"):
                _require_known_query(getattr(view, "accepted_parameters", frozenset()))
            representation(*getattr(view, "media_types", ("application/json",)))

    app.before_request(pass_gate)
    app.wsgi_app = ShortWay(app, pass_gate)  # type: ignore[method-assign]


def _marking(attribute: str, value: object) -> Callable[[View], View]:
    def mark(view: View) -> View:
        setattr(view, attribute, value)
        return view

    return mark


def _require_key(digests: list[bytes]) -> None:
    """Compare with every digest, each in constant time, so that timing tells nothing about any of them."""
    given = hashlib.sha256(request.headers.get("X-Api-Key", "").encode("utf-8", "surrogateescape")).digest()
    matches = [hmac.compare_digest(given, digest) for digest in digests]
    if not any(matches):
        raise ProblemError("request.key-required", headers=(("WWW-Authenticate", 'ApiKey header="X-Api-Key"'),))


def _require_known_query(accepted: frozenset[str]) -> None:
    errors = []
    for name, values in request.args.lists():
        if name not in accepted:
            known = f"It knows {', '.join(sorted(accepted))}." if accepted else "It takes none."
            code, detail = "query.unknown-parameter", f"This resource does not know this query parameter. {known}"
        elif len(values) > 1:
            code, detail = "query.repeated-parameter", "This query parameter may stand once."
        else:
            continue
        errors.append(FieldError("", code, detail, tuple(sorted(accepted)), parameter=name[:64]))
    if errors:
        raise ProblemError("request.not-valid", errors=tuple(errors))
