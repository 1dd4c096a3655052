"""The shapes of the answers of the probes."""

from dataclasses import dataclass

from service.schemas.item_shapes import EDITION, always


@dataclass(frozen=True)
class AliveShape:
    """The process answers."""

    status: str = always("choice", "Always `alive`.", choices=("alive",))


@dataclass(frozen=True)
class ReadyShape:
    """The service can give correct answers."""

    status: str = always("choice", "Always `ready`.", choices=("ready",))


@dataclass(frozen=True)
class VersionShape:
    """What is running."""

    service: str = always("text", "Version of the service.")
    contract: str = always("text", "Version of the contract.")
    edition: str = always("text", EDITION)
    knowledge: str = always("text", "Edition of the limits, codes and texts.")
    properties: str = always("text", "Property library and edition of the tables made from it.")
    commit: str = always("text", "Commit that the image was built from.")
