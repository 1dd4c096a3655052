"""GET /livez, /readyz, /version and /metrics."""

from __future__ import annotations

from collections.abc import Callable

from flask import Blueprint, Response, current_app

from service.library.provenance import provenance
from service.results.provenance import Version
from service.results.refusal import phrase
from service.schemas.lists.service import Alive, Ready
from service.schemas.writing import written
from service.wire import readiness
from service.wire.described import Example, View, described
from service.wire.gate import open_to_all, produces
from service.wire.metrics import exposition
from service.wire.problems import ProblemError
from service.wire.responding import respond, send
from service.words.say import plain_speaker

BLUEPRINT = Blueprint("probes", __name__)
_ALIVE, _READY = (written(said, plain_speaker()) for said in (Alive(), Ready()))


def _probe(
    operation_id: str, answer: type, *examples: Example, also: tuple[int, ...] = ()
) -> Callable[[View], View]:
    return described(operation_id, "Operations", answer=answer, examples=examples, also=also, spoken=False)


@BLUEPRINT.get("/livez")
@_probe("showAlive", Alive, Example("alive", "Alive"))
@open_to_all
def show_alive() -> Response:
    """Liveness.

    Does no work.
    """
    return respond(_ALIVE)


@BLUEPRINT.get("/readyz")
@_probe("showReady", Ready, Example("ready", "Ready"), also=(503,))
@open_to_all
def show_ready() -> Response:
    """Readiness (self-check passed).

    One known sum; 503 while stopping.
    """
    if readiness.draining():
        raise ProblemError("server.draining", headers=(("Retry-After", "5"),))
    if readiness.silent():
        raise ProblemError("server.not-ready", phrase("ready.no-worker"), headers=(("Retry-After", "5"),))
    readiness.require_known_sum()
    return respond(_READY)


@BLUEPRINT.get("/version")
@_probe("showVersion", Version, Example("version", "Versions"))
@open_to_all
def show_version() -> Response:
    """Version and build.

    Service, commit, edition of the knowledge, origin of the property tables.
    """
    held, commit = provenance(), current_app.config["SERVICE_COMMIT"]
    version = Version(held.service, held.contract, held.edition, held.knowledge, held.properties, commit)
    return respond(written(version, plain_speaker()))


@BLUEPRINT.get("/metrics")
@described("showMetrics", "Operations", spoken=False)
@produces("text/plain")
@open_to_all
def show_metrics() -> Response:
    """Metrics (all workers).

    In the text format that Prometheus reads.
    """
    return send(exposition(), "text/plain; version=0.0.4; charset=utf-8")
