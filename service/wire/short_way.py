"""The short way to a view: what Flask does for every request, without what this service never asks of it.

Most requests go to a path without variables. For these, no host is taken apart, no address adapter is built, no
list of hooks is searched and no signal is sent; context, gate, view and error handlers are the same. Whatever is
unusual about a request takes Flask's own way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from importlib import metadata
from typing import TYPE_CHECKING, Any

from flask import Flask, Response
from flask.ctx import AppContext, RequestContext
from flask.globals import _cv_app, _cv_request
from flask.sessions import NullSession
from werkzeug.exceptions import SecurityError
from werkzeug.routing import Rule
from werkzeug.sansio.utils import get_host

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

Rules = Mapping[tuple[str, str], Rule]
METHODS = frozenset({"GET", "POST"})
"""HEAD and OPTIONS are answered by Flask itself."""
KNOWN_FLASK = "3.1."
"""Whose way was read before it was shortened; any other one takes its own until somebody has looked."""
_KEEPS_CONTEXT = "werkzeug.debug.preserve_context"
_NO_SESSION = NullSession()


class ShortWay:
    """A WSGI application in place of Flask's own.

    Parameters
    ----------
    app: the application. Its first request takes Flask's own way; after it no hook and no rule can be added.
    pass_gate: called before the view; also the only `before_request` function of the app.
    """

    def __init__(self, app: Flask, pass_gate: Callable[[], None]) -> None:
        self._app = app
        self._own_way: WSGIApplication = app.wsgi_app
        self._pass_gate = pass_gate
        self._rules: Rules | None = None

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Serve one request."""
        if self._rules is None:
            self._rules = fixed_rules(self._app, self._pass_gate)
            return self._own_way(environ, start_response)
        rule = self._rules.get((environ["REQUEST_METHOD"], environ["PATH_INFO"]))
        if rule is None or not _is_usual(environ):
            return self._own_way(environ, start_response)
        app_token = _cv_app.set(AppContext(self._app))
        request_token = _cv_request.set(KnownRuleContext(self._app, environ, rule))
        try:
            return self._answer(rule.endpoint)(environ, start_response)
        finally:
            _cv_request.reset(request_token)
            _cv_app.reset(app_token)
            environ["werkzeug.request"] = None  # as Flask does: no circle that only the collector would open

    def _answer(self, endpoint: str) -> Response:
        app = self._app
        answer: Any
        try:
            self._pass_gate()
            answer = app.view_functions[endpoint]()
        except Exception as error:
            answer = app.handle_user_exception(error)
        return answer if isinstance(answer, Response) else app.make_response(answer)


class KnownRuleContext(RequestContext):
    """Flask's context of a request whose rule is known: the same members, but nothing is matched."""

    def __init__(self, app: Flask, environ: WSGIEnvironment, rule: Rule) -> None:
        self.app = app
        self.request = request = app.request_class(environ)
        request.json_module = app.json
        request.url_rule, request.view_args = rule, {}
        self.url_adapter = None
        self.flashes = None
        self._session = _NO_SESSION
        self._after_request_functions = []
        self._cv_tokens = []


def fixed_rules(app: Flask, pass_gate: Callable[[], None]) -> Rules:
    """Rules without variables by method and path.

    None where the app has hooks that the short way leaves out, or where Flask is another one.
    """
    left_out = (app.after_request_funcs, app.teardown_request_funcs, app.url_value_preprocessors)
    has_hooks = app.teardown_appcontext_funcs or any(any(hooks.values()) for hooks in left_out)
    if has_hooks or app.before_request_funcs != {None: [pass_gate]} or not flask_version().startswith(KNOWN_FLASK):
        return {}
    return {
        (method, rule.rule): rule
        for rule in app.url_map.iter_rules()
        if not rule.arguments
        for method in METHODS & (rule.methods or frozenset())
    }


def flask_version() -> str:
    """The version of the installed Flask."""
    return metadata.version("flask")


def _is_usual(environ: WSGIEnvironment) -> bool:
    """Whether Flask would find nothing to refuse, to redirect or to keep before it looks for the rule."""
    if "HTTP_UPGRADE" in environ or environ["SCRIPT_NAME"] or _KEEPS_CONTEXT in environ:
        return False
    return _is_host(environ.get("HTTP_HOST", ""))


@lru_cache(maxsize=256)
def _is_host(host: str) -> bool:
    """Whether Flask accepts a Host header."""
    try:
        get_host("http", host)
        host.partition(":")[0].encode("idna")
    except (SecurityError, UnicodeError):
        return False
    return True
