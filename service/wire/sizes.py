"""The query `size`: how much of an answer the caller wants."""

from __future__ import annotations

from service.results.refusal import FieldError, phrase
from service.schemas.sizes import FULL, OUTCOME, SHORT, SIZES
from service.wire.described import Parameter, choice
from service.wire.problems import ProblemError
from service.wire.reading import request_object

PART_SIZES = (FULL, SHORT)
"""What is about a part of the visit has no outcome."""
_SAID = "How much of the answer is sent: full; short: what passed is a list of codes"
SIZE_OF_PART = choice("size", f"{_SAID}.", *PART_SIZES)
SIZE_OF_WHOLE = choice("size", f"{_SAID}; {OUTCOME}: every list but the holds is empty.", *SIZES)


def asked_size(parameter: Parameter) -> str:
    """The size asked for, the first one where nothing is said. Raises: ProblemError 422 for any other."""
    allowed = parameter.allowed
    given = request_object().args.get(parameter.name, allowed[0])
    if given not in allowed:
        detail = phrase("document.one-of", words=", ".join(allowed))
        error = FieldError("", "query.not-valid", detail, allowed, parameter=parameter.name)
        raise ProblemError("request.not-valid", errors=(error,))
    return given
