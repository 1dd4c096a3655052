"""Shares of causes that cannot be mixed in: of another model, of no cause, or more than all of them."""

from collections.abc import Iterator

from service.knowledge.catalogues import causes
from service.knowledge.model_version import model_version
from service.results.refusal import FieldError, phrase
from service.results.visit.priors import Priors

ALL = 1.0 + 1e-6  # room for shares that were rounded


def prior_errors(priors: Priors) -> Iterator[FieldError]:
    """What is wrong with the priors of a visit, by pointer; nothing where none were given."""
    if priors.labels is None:
        return
    if priors.model is not None and priors.model != model_version():
        detail = phrase("priors.other-model", model=model_version())
        yield FieldError("/priors/model", "priors.other-model", detail, (model_version(),))
    yield from _share_errors([item.cause or "" for item in priors.shares])
    if sum(item.share or 0.0 for item in priors.shares) > ALL:
        detail, allowed = phrase("priors.more-than-all"), phrase("range.at-most", high="1")
        yield FieldError("/priors/shares", "priors.more-than-all", detail, (allowed,))


def _share_errors(codes: list[str]) -> Iterator[FieldError]:
    for at, code in enumerate(codes):
        pointer = f"/priors/shares/{at}/cause"
        if code not in causes():
            yield FieldError(pointer, "priors.unknown-cause", phrase("priors.unknown-cause"))
        elif code in codes[:at]:
            yield FieldError(pointer, "priors.repeated-cause", phrase("priors.repeated-cause"))
