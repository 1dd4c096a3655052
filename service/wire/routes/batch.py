"""POST /v1/batch: up to a thousand visits as newline-delimited JSON, answered line by line as they are judged."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from flask import Blueprint, Response, request

from service.wire import observe
from service.wire.batch_lines import require_countable
from service.wire.failures import REQUEST_ID
from service.wire.gate import produces
from service.wire.helper import HELPER
from service.wire.load import COST
from service.wire.reading import BATCH_LIMIT, language, read_body
from service.wire.responding import stream

BLUEPRINT = Blueprint("batch", __name__)
MEDIA_TYPE = "application/x-ndjson"


@BLUEPRINT.post("/v1/batch")
@produces(MEDIA_TYPE)
def post_batch() -> Response:
    """Many visits, one a line; the body is read whole first, because most clients send before they read."""
    spoken = language()
    body = read_body(MEDIA_TYPE, BATCH_LIMIT)
    require_countable(body)
    pieces = _pieces(body, spoken, request.environ.get(REQUEST_ID, "unknown"))
    del body
    response = stream(chain([next(pieces)], pieces), MEDIA_TYPE)  # what is refused is refused before it begins
    response.headers["Content-Language"] = spoken
    response.headers["Vary"] = "Accept-Language"
    return response


def _pieces(body: bytes, language: str, request_id: str) -> Iterator[bytes]:
    for piece, seconds in HELPER.run("batch", body, language, request_id):
        observe.findings(piece.codes)
        request.environ[COST] = request.environ.get(COST, 0.0) + seconds
        if piece.body:  # an empty piece would end a chunked answer
            yield piece.body
