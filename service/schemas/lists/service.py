"""What the service says of itself: that it lives, that it is ready, and where everything is."""

from __future__ import annotations

from dataclasses import dataclass, field

from service.results.declare import sent
from service.results.provenance import Provenance


@dataclass(frozen=True, slots=True)
class Alive:
    """Liveness."""

    status: str = field(default="alive", metadata=sent("choice", "Always `alive`.", choices=("alive",)))


@dataclass(frozen=True, slots=True)
class Ready:
    """Readiness (self-check passed)."""

    status: str = field(default="ready", metadata=sent("choice", "Always `ready`.", choices=("ready",)))


@dataclass(frozen=True, slots=True)
class Root:
    """Where everything is: paths of this service."""

    documentation: str = field(metadata=sent("text", "The API reference as a page."))
    guide: str = field(metadata=sent("text", "The guide to verdicts and steps as a page."))
    contract: str = field(metadata=sent("text", "The OpenAPI document."))
    readings: str = field(metadata=sent("text", "The catalogue of readings."))
    assessment: str = field(metadata=sent("text", "Where a visit is posted."))
    version: str = field(metadata=sent("text", "Version and build."))
    provenance: Provenance = field(metadata=sent("object", "What gave the answer.", part=Provenance))
