"""The posted visit, with the shares of causes that this service was started with."""

from __future__ import annotations

from service.library import load_visit
from service.results.visit import Visit
from service.wire.learnt import learnt_shares
from service.wire.reading import read_document


def read_visit() -> Visit:
    """The visit that was posted. Raises: Refusal for what is wrong, ProblemError as `read_document`."""
    return load_visit(read_document(), learnt_shares())
