"""POST /v1/batch: up to a thousand visits as newline-delimited JSON, answered line by line as they are judged."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, request

from service.reasoning.assessment import assess
from service.results.visit import Visit
from service.schemas.documents import load
from service.wire.batch_lines import answer_lines, require_countable
from service.wire.failures import REQUEST_ID
from service.wire.gate import produces
from service.wire.reading import BATCH_LIMIT, language, read_body
from service.wire.responding import stream
from service.wire.routes.visits import answer_visit

BLUEPRINT = Blueprint("batch", __name__)
MEDIA_TYPE = "application/x-ndjson"


@BLUEPRINT.post("/v1/batch")
@produces(MEDIA_TYPE)
def post_batch() -> Response:
    """Many visits, one a line; the body is read whole first, because most clients send before they read."""
    spoken = language()
    body = read_body(MEDIA_TYPE, BATCH_LIMIT)
    require_countable(body)

    def judge(content: dict[str, Any]) -> dict[str, Any]:
        return answer_visit(load(Visit, content), assess, spoken)

    response = stream(answer_lines(body, judge, request.environ.get(REQUEST_ID, "unknown")), MEDIA_TYPE)
    response.headers["Content-Language"] = spoken
    response.headers["Vary"] = "Accept-Language"
    return response
