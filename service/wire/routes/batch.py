"""POST /v1/batch: up to a thousand visits, answered one by one as they are judged.

Newline-delimited JSON in and out, or one JSON document in and out; each answer is the same either way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from flask import Blueprint, Response, request

from service.library import written_provenance
from service.results.refusal import phrase
from service.schemas.batch_shapes import BatchAnswerShape, BatchRequest
from service.wire import observe
from service.wire.batch_lines import Batch, lines_of_document, require_countable
from service.wire.described import Example, described
from service.wire.failures import REQUEST_ID
from service.wire.gate import produces, query_parameters
from service.wire.helper import HELPER
from service.wire.load import COST
from service.wire.problems import ProblemError
from service.wire.reading import BATCH_LIMIT, language, read_body, request_object
from service.wire.responding import JSON, encode, stream
from service.wire.sizes import SIZE_OF_WHOLE, asked_size

BLUEPRINT = Blueprint("batch", __name__)
NDJSON = "application/x-ndjson"


def _examples(ending: str) -> tuple[Example, ...]:
    return (
        Example("two-visits", "Two visits", f"batch/two-visits.{ending}"),
        Example("one-visit", "A batch of one", f"batch/one-visit.{ending}"),
    )


@BLUEPRINT.post("/v1/batch")
@described(
    "assessMany",
    "Visits",
    request=BatchRequest,
    answer=BatchAnswerShape,
    shows=(JSON, NDJSON),
    body_text="Newline-delimited JSON: a Visit a line.",
    other_request_media=NDJSON,
    examples=_examples("json"),
    other_examples=_examples("ndjson"),
)
@query_parameters(SIZE_OF_WHOLE)
@produces(NDJSON, JSON)
def post_batch() -> Response:
    """Assess many visits.

    Up to 1000 visits, 8388608 bytes together, answered as they came: one JSON document in and out, or
    newline-delimited JSON in and out, a line a visit (at most 65536 bytes) and an answer a line (BatchLine). Both
    are streamed in order. A refused visit never stops the others.
    """
    # The body is read whole first, because most clients send before they read.
    media = JSON if request_object().mimetype == JSON else NDJSON
    _require_accepted(media)
    spoken, size = language(), asked_size(SIZE_OF_WHOLE)
    body = read_body(media, BATCH_LIMIT)
    if media == JSON:
        body = lines_of_document(body)
    require_countable(body)
    pieces = _pieces(Batch(body, size), spoken, request.environ.get(REQUEST_ID, "unknown"))
    del body
    pieces = chain([next(pieces)], pieces)  # what is refused is refused before it begins
    response = stream(_as_document(pieces) if media == JSON else pieces, media)
    response.headers["Content-Language"] = spoken
    return response


def _pieces(batch: Batch, language: str, request_id: str) -> Iterator[bytes]:
    for piece, seconds in HELPER.run("batch", batch, language, request_id):
        observe.findings(piece.codes)
        request.environ[COST] = request.environ.get(COST, 0.0) + seconds
        if piece.body:  # an empty piece would end a chunked answer
            yield piece.body


def _as_document(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """Lines of answers as one JSON document; a line break stands between two answers and nowhere inside of one."""
    before = b'{"answers":['
    for piece in pieces:
        yield before + piece.rstrip(b"\n").replace(b"\n", b",")
        before = b","
    yield b'],"provenance":' + encode(written_provenance()) + b"}"


def _require_accepted(media: str) -> None:
    """The answer comes as the visits came. Raises: ProblemError 406 where the caller does not accept that."""
    current = request_object()
    if current.environ.get("HTTP_ACCEPT") and not current.accept_mimetypes[media]:
        raise ProblemError("request.not-acceptable", phrase("media.batch", type=media))
