"""What gave an answer, and how much of what was posted it rests on: every answer and every list has it."""

from __future__ import annotations

from service.results.declare import sent, sent_if_known
from service.results.record import Record, field

EDITION = (
    "Digest over code, knowledge, texts, tables, libraries and contract; also in the header X-Edition. The same "
    "edition gives the same bytes."
)


class Versions(Record):
    """What is at work."""

    service: str = field(metadata=sent("text", "Version of the service."))
    contract: str = field(metadata=sent("text", "Version of the contract."))
    edition: str = field(metadata=sent("text", EDITION))
    knowledge: str = field(metadata=sent("text", "Edition of the limits, codes and texts."))
    properties: str = field(metadata=sent("text", "Property library and edition of the tables made from it."))


class Provenance(Versions):
    """What gave the answer: the same request to the same versions gives the same bytes."""

    priors: str | None = field(
        default=None,
        metadata=sent_if_known("text", "A fleet's learnt shares of causes that were mixed in, and their labels."),
    )
    simulated_units: str | None = field(
        default=None,
        metadata=sent_if_known(
            "text",
            "How far the likelihoods of simulated units were believed: temperature, share left at the prior, most "
            "that they alone may say, and the set that this was fitted on. Absent where they were not relied on.",
        ),
    )
    baseline: str | None = field(
        default=None, metadata=sent_if_known("text", "The baseline of this unit that was used.")
    )
    printed_normals: str | None = field(
        default=None, metadata=sent_if_known("text", "The printed normals of this unit that were used.")
    )


class Version(Versions):
    """Version and build."""

    commit: str = field(metadata=sent("text", "Commit that the image was built from."))


class Read(Record):
    """How much of the readings that were posted the answer rests on."""

    posted: int = field(metadata=sent("integer", "Readings in the document.", low=0, high=100000))
    used: int = field(metadata=sent("integer", "Readings that the answer rests on.", low=0, high=100000))
    ignored: tuple[str, ...] = field(
        metadata=sent("texts", "Pointers of the readings without which it would say the same.")
    )
