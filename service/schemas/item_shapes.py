"""What every answer and every list has in common: what gave it, and how much of what was posted it rests on."""

from dataclasses import dataclass
from typing import Any

from service.results.declare import member, words_of
from service.results.finding import Severity

EDITION = (
    "Digest over code, knowledge, texts, tables, libraries and contract; also in the header X-Edition. The same "
    "edition gives the same bytes."
)
SEVERITIES = words_of(Severity)


def always(kind: str, description: str, **details: Any) -> Any:
    """A member that every answer has."""
    return member(kind, description, required=True, **details)


@dataclass(frozen=True)
class ProvenanceShape:
    """What gave the answer: the same request to the same versions gives the same bytes."""

    service: str = always("text", "Version of the service.")
    contract: str = always("text", "Version of the contract.")
    edition: str = always("text", EDITION)
    knowledge: str = always("text", "Edition of the limits, codes and texts.")
    properties: str = always("text", "Property library and edition of the tables made from it.")
    priors: str = member("text", "A fleet's learnt shares of causes that were mixed in, and their labels.")
    simulated_units: str = member(
        "text",
        "How far the likelihoods of simulated units were believed: temperature, share left at the prior, most "
        "that they alone may say, and the set that this was fitted on. Absent where they were not relied on.",
    )
    baseline: str = member("text", "The baseline of this unit that was used.")
    printed_normals: str = member("text", "The printed normals of this unit that were used.")


@dataclass(frozen=True)
class ReadShape:
    """How much of the readings that were posted the answer rests on."""

    posted: int = always("integer", "Readings in the document.", low=0, high=100000)
    used: int = always("integer", "Readings that the answer rests on.", low=0, high=100000)
    ignored: tuple[str, ...] = always("texts", "Pointers of the readings without which it would say the same.")
