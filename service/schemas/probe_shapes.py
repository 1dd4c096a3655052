"""The shapes of the answers of the probes, and of the root."""

from dataclasses import dataclass
from typing import Any

from service.results.provenance import Provenance
from service.schemas.item_shapes import always


@dataclass(frozen=True)
class AliveShape:
    """Liveness."""

    status: str = always("choice", "Always `alive`.", choices=("alive",))


@dataclass(frozen=True)
class ReadyShape:
    """Readiness (self-check passed)."""

    status: str = always("choice", "Always `ready`.", choices=("ready",))


@dataclass(frozen=True)
class RootShape:
    """Where everything is: paths of this service."""

    documentation: str = always("text", "The API reference as a page.")
    guide: str = always("text", "The guide to verdicts and steps as a page.")
    contract: str = always("text", "The OpenAPI document.")
    readings: str = always("text", "The catalogue of readings.")
    assessment: str = always("text", "Where a visit is posted.")
    version: str = always("text", "Version and build.")
    provenance: Any = always("object", "What gave the answer.", part=Provenance)
