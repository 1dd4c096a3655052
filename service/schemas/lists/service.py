"""What the service says of itself: that it lives, that it is ready, and where everything is."""

from __future__ import annotations

from service.results.declare import sent
from service.results.provenance import Provenance
from service.results.record import Record, field


class Alive(Record):
    """Liveness."""

    status: str = field(default="alive", metadata=sent("choice", "Always `alive`.", choices=("alive",)))


class Ready(Record):
    """Readiness (self-check passed)."""

    status: str = field(default="ready", metadata=sent("choice", "Always `ready`.", choices=("ready",)))


class Root(Record):
    """Where everything is: paths of this service."""

    documentation: str = field(metadata=sent("text", "The API reference as a page."))
    guide: str = field(metadata=sent("text", "The guide to verdicts and steps as a page."))
    contract: str = field(metadata=sent("text", "The OpenAPI document."))
    readings: str = field(metadata=sent("text", "The catalogue of readings."))
    assessment: str = field(metadata=sent("text", "Where a visit is posted."))
    version: str = field(metadata=sent("text", "Version and build."))
    provenance: Provenance = field(metadata=sent("object", "What gave the answer.", part=Provenance))
