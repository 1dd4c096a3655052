"""GET /livez, /readyz, /version and /metrics."""

from __future__ import annotations

from flask import Blueprint, Response, current_app

from service.library.provenance import provenance
from service.wire import readiness
from service.wire.gate import open_to_all
from service.wire.metrics import exposition
from service.wire.problems import ProblemError
from service.wire.responding import respond, send

BLUEPRINT = Blueprint("probes", __name__)


@BLUEPRINT.get("/livez")
@open_to_all
def show_alive() -> Response:
    """The process answers; no work is done."""
    return respond({"status": "alive"})


@BLUEPRINT.get("/readyz")
@open_to_all
def show_ready() -> Response:
    """The service can give correct answers and is not about to stop."""
    if readiness.draining():
        raise ProblemError("server.draining", headers=(("Retry-After", "5"),))
    if readiness.silent():
        raise ProblemError("server.not-ready", "No worker answers.", headers=(("Retry-After", "5"),))
    readiness.require_known_sum()
    return respond({"status": "ready"})


@BLUEPRINT.get("/version")
@open_to_all
def show_version() -> Response:
    """What is running: service, commit, edition of the knowledge, origin of the property tables."""
    return respond({**provenance(), "commit": current_app.config["SERVICE_COMMIT"]})


@BLUEPRINT.get("/metrics")
@open_to_all
def show_metrics() -> Response:
    """Counters of all workers in Prometheus' text format."""
    return send(exposition(), "text/plain; version=0.0.4; charset=utf-8")
