"""POST /v1/batch: up to a thousand visits as newline-delimited JSON, answered line by line as they are judged."""

from __future__ import annotations

from flask import Blueprint, Response, request

from service.wire.batch_lines import answer_lines, require_countable
from service.wire.failures import REQUEST_ID
from service.wire.gate import produces
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
    response = stream(answer_lines(body, spoken, request.environ.get(REQUEST_ID, "unknown")), MEDIA_TYPE)
    response.headers["Content-Language"] = spoken
    response.headers["Vary"] = "Accept-Language"
    return response
