"""The application factory: one place where the layers are put together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from flask import Flask, Request, Response
from flask.sessions import NullSession, SessionInterface
from werkzeug.routing import MapAdapter

from service.knowledge import rule_book
from service.library import provenance
from service.settings import Settings
from service.wire import failures, gate, learnt, metrics
from service.wire.admission import Admission
from service.wire.negotiated import Negotiated
from service.wire.observe import Observed
from service.wire.routes import BLUEPRINTS

ANY_HOST = "localhost"
"""Of no consequence: nothing is redirected to and no rule has a host (a test holds both)."""


class NoSessions(SessionInterface):
    """No cookie is read or written."""

    nothing = NullSession()

    def open_session(self, app: Flask, request: Request) -> NullSession:  # noqa: ARG002
        """The same empty session for every request."""
        return self.nothing


class Application(Flask):
    """Flask without the parts that would answer in its own words, and without those that are never used."""

    session_interface = NoSessions()

    def create_url_adapter(self, request: Request | None) -> MapAdapter | None:
        """Routes by the path alone: no rule has a host, so none is taken apart for it."""
        if request is None:
            return super().create_url_adapter(request)
        environ = request.environ
        return MapAdapter(
            self.url_map,
            server_name=ANY_HOST,
            script_name="/",
            subdomain="",
            url_scheme=environ["wsgi.url_scheme"],
            path_info=request.path,
            default_method=environ["REQUEST_METHOD"],
            query_args=environ.get("QUERY_STRING", ""),
        )

    def ensure_sync(self, func: Callable[..., Any]) -> Callable[..., Any]:
        """Views and hooks are plain functions, all of them."""
        return func

    def make_default_options_response(self) -> Response:
        """OPTIONS: 204 with Allow."""
        response = super().make_default_options_response()
        response.status_code = 204
        response.headers.remove("Content-Type")
        return response


def create_app(settings: Settings | None = None) -> Flask:
    """The service as a WSGI application.

    Parameters
    ----------
    settings: how to run; all defaults when None. The environment is read by `service.settings` alone.
    """
    settings = settings or Settings()
    rule_book.install(settings.default_jurisdiction, settings.rules_folder)
    app = Application(__name__, static_folder=None)
    app.url_map.merge_slashes = False
    app.config["SERVICE_COMMIT"] = settings.service_commit
    learnt.install(settings.learnt_file)
    gate.install(app, settings)
    failures.install(app)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    metrics.describe_build(settings.service_commit, provenance())
    admission = Admission(app.wsgi_app, settings.in_flight_limit, settings.queue_milliseconds)
    negotiated = Negotiated(admission, settings.cors_origins)
    app.wsgi_app = Observed(  # type: ignore[method-assign]
        negotiated, settings.proxy_networks, private=settings.keys_asked_for
    )
    return app
