"""What every request must pass before its route runs: key, query parameters, representation."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from flask import Flask, request

from service.results.refusal import FieldError, Said, phrase
from service.settings import Settings
from service.wire.callers import Callers
from service.wire.described import Parameter, View
from service.wire.problems import ProblemError
from service.wire.reading import representation, request_object

ROUTE = "service.route"
"""Where the outermost layer finds the template of the matched route."""
CALLER = "service.caller"
"""Where it finds the name behind the key."""
VARY = "service.vary"
"""Where it finds the request headers that the answer depends on, besides those that the answer names itself."""
KEY_HEADER = "X-Api-Key"


def query_parameters(*parameters: Parameter) -> Callable[[View], View]:
    """Declare the query parameters that a view reads; without it, none is accepted."""
    return _marking("query_parameters", {parameter.name: parameter for parameter in parameters})


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
    callers = Callers(settings.api_keys, settings.api_keys_file)
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
        media_types = getattr(view, "media_types", ("application/json",))
        with_key = callers.asked_for and not getattr(view, "without_key", False)
        environ[VARY] = ("Accept",) * (len(media_types) > 1) + (KEY_HEADER,) * with_key
        if with_key and environ["REQUEST_METHOD"] != "OPTIONS":
            environ[CALLER] = _require_key(callers)
        if view is not None and environ["REQUEST_METHOD"] != "OPTIONS":
            if environ.get("QUERY_STRING"):
                _require_known_query(getattr(view, "query_parameters", {}))
            representation(*media_types)

    app.before_request(pass_gate)


def _marking(attribute: str, value: object) -> Callable[[View], View]:
    def mark(view: View) -> View:
        setattr(view, attribute, value)
        return view

    return mark


def _require_key(callers: Callers) -> str:
    name = callers.name_of(request.headers.get(KEY_HEADER, ""))
    if name is None:
        raise ProblemError(
            "request.key-required", headers=(("WWW-Authenticate", f'ApiKey header="{KEY_HEADER}"'),)
        )
    return name


def _require_known_query(accepted: Mapping[str, Parameter]) -> None:
    errors: list[FieldError] = []
    detail: Said
    for name, values in request.args.lists():
        if name not in accepted:
            known = phrase("query.known", names=", ".join(sorted(accepted))) if accepted else phrase("query.none")
            code, detail = "query.unknown-parameter", (phrase("query.unknown"), known)
        elif len(values) > 1:
            code, detail = "query.repeated-parameter", phrase("query.repeated")
        else:
            continue
        errors.append(FieldError("", code, detail, tuple(sorted(accepted)), parameter=name[:64]))
    if errors:
        raise ProblemError("request.not-valid", errors=tuple(errors))
