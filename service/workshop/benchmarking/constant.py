"""The constant-answer twin: the whole service, except that what an endpoint once answered, it answers ever after.

What the twin does as the endpoint does: the same server, worker and settings; admission, request id, gate,
counters and log line; the body read to its end (media type, size) and parsed as strict JSON; an answer of the same
status, headers and length, made anew for each request.
What it leaves out, and what the endpoint therefore costs over it: the document checked and converted by its
schema, the computation, the texts, and the writing of the answer as JSON.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from flask import Flask, Response

from service.app import create_app
from service.settings import Settings
from service.wire.metrics_folder import metrics_folder
from service.wire.reading import read_document
from service.wire.responding import send
from service.wire.server import Server
from service.workshop.benchmarking.processes import HOST

TWINS = ("saturation.post_saturation", "visits.post_assessment")


def serve(port: int) -> None:
    """Run the twin with one worker until it is stopped."""
    settings = Settings(web_concurrency=1, queue_milliseconds=60_000)
    with metrics_folder(None):
        Server(f"{HOST}:{port}", settings, _make).run()


def _make(settings: Settings) -> Flask:
    app: Flask = create_app(settings)
    for name in TWINS:
        app.view_functions[name] = _constant(app.view_functions[name])
    return app


def _constant(view: Callable[..., Any]) -> Callable[[], Response]:
    said: dict[str, Any] = {}

    def answer() -> Response:
        if not said:
            first: Response = view()
            said["language"] = first.headers.get("Content-Language")
            said["body"] = first.get_data()
            return first
        read_document()
        return send(said["body"], "application/json", language=said["language"])

    return answer
