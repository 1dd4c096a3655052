"""What the document says that no endpoint says: introduction, limits, headers, the key."""

from __future__ import annotations

from importlib import resources
from typing import Any

from service.results.contract import CONTRACT
from service.results.saturation import MOST_POINTS
from service.wire.batch_lines import MOST_ANSWER, MOST_LINES
from service.wire.problems import MOST_ERRORS
from service.wire.reading import BATCH_LIMIT, BODY_LIMIT
from service.wire.strict_json import MOST_DIGITS, MOST_LEVELS

BODY = f"One strict JSON object, at most {BODY_LIMIT} bytes."
BATCH_BODY = f"One strict JSON object, or newline-delimited JSON; at most {BATCH_LIMIT} bytes."
LIMITS = {
    "body": BODY_LIMIT,
    "batch": BATCH_LIMIT,
    "levels": MOST_LEVELS,
    "digits": MOST_DIGITS,
    "points": MOST_POINTS,
    "errors": MOST_ERRORS,
    "lines": MOST_LINES,
    "answer": MOST_ANSWER,
}


def info() -> dict[str, Any]:
    """Title and introduction; the limits in it are the ones that the code holds."""
    introduction = (resources.files(__package__) / "introduction.md").read_text(encoding="utf-8")
    return {
        "title": "Air conditioner diagnosis",
        "version": CONTRACT,
        "summary": "Readings in, verdicts, causes and safe next steps out.",
        "description": introduction.format_map(LIMITS),
    }


SECURITY_SCHEMES = {
    "ApiKey": {
        "type": "apiKey",
        "in": "header",
        "name": "X-Api-Key",
        "description": "Asked for only where the service was started with keys.",
    }
}


def _header_parameter(name: str, said: str, example: str) -> dict[str, Any]:
    return {
        "name": name,
        "in": "header",
        "required": False,
        "description": said,
        "schema": {"type": "string"},
        "example": example,
    }


PARAMETERS = {
    "RequestId": _header_parameter(
        "X-Request-Id",
        "Id of the request, 1 to 64 of A-Z a-z 0-9 . _ -; anything else, or nothing, is replaced by a new one.",
        "job-4711.visit-2",
    ),
    "AcceptLanguage": _header_parameter(
        "Accept-Language",
        "Language of the texts, those of problems too: en (default) or es. Codes and numbers never change.",
        "es-MX, en;q=0.8",
    ),
    "IfNoneMatch": _header_parameter(
        "If-None-Match",
        "ETag of the copy at hand; 304 when it is still good.",
        '"0123456789abcdef0123456789abcdef"',
    ),
}


def _header(said: str, example: str) -> dict[str, Any]:
    return {"description": said, "schema": {"type": "string"}, "example": example}


HEADERS = {
    "X-Request-Id": _header(
        "Id of the request, the caller's or a new one; it stands in the logs.", "job-4711.visit-2"
    ),
    "Server-Timing": _header(
        "What the answer cost (W3C Server Timing): total and processor time in ms, without the upload.",
        "total;dur=7.1, processor;dur=5.3",
    ),
    "Vary": _header("Request headers that the answer depends on.", "Accept, Accept-Language"),
    "X-Edition": _header("The edition that answered: the same edition gives the same bytes.", "0" * 16),
    "ETag": _header("Strong validator of the bytes.", '"0123456789abcdef0123456789abcdef"'),
    "Cache-Control": _header("How long the answer may be kept.", "public, max-age=3600"),
    "Content-Language": _header("Language of the texts.", "en"),
    "Location": _header("Where it leads.", "/docs"),
    "Allow": _header("Methods of the path.", "GET, HEAD, OPTIONS"),
    "Retry-After": _header("Seconds after which to try again.", "1"),
    "WWW-Authenticate": _header("How to identify.", 'ApiKey header="X-Api-Key"'),
    "Deprecation": _header("Present only when the endpoint is going away: since when (RFC 9745).", "@1767225600"),
    "Sunset": _header(
        "Present only when a last day is set: after it the endpoint may be gone (RFC 8594).",
        "Thu, 31 Dec 2026 23:59:59 GMT",
    ),
}


def led(said: str) -> dict[str, Any]:
    """The response that leads elsewhere."""
    names = ("Location", "X-Request-Id")
    return {"description": said, "headers": {name: {"$ref": f"#/components/headers/{name}"} for name in names}}


NOT_MODIFIED = {
    "description": "The copy named by If-None-Match is still good.",
    "headers": {
        "ETag": {"$ref": "#/components/headers/ETag"},
        "X-Request-Id": {"$ref": "#/components/headers/X-Request-Id"},
    },
}
