"""The query `size`: how much of an answer the caller wants."""

from __future__ import annotations

from service.results.refusal import FieldError
from service.wire.problems import ProblemError
from service.wire.reading import request_object

SIZE = "size"


def asked_size(sizes: tuple[str, ...]) -> str:
    """The size asked for, the first one where nothing is said. Raises: ProblemError 422 for any other."""
    given = request_object().args.get(SIZE, sizes[0])
    if given not in sizes:
        detail = f"Use one of: {', '.join(sizes)}."
        error = FieldError("", "query.not-valid", detail, sizes, parameter=SIZE)
        raise ProblemError("request.not-valid", errors=(error,))
    return given
