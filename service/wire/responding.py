"""What a route answers with: deterministic JSON, cacheable lists, headers for what is going away."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from email.utils import format_datetime
from functools import cached_property
from typing import TYPE_CHECKING, Any

import gevent
import orjson
from flask import Response, request, stream_with_context
from werkzeug.datastructures import Headers

from service.wire.problems import NO_GUESSING

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment

_ENCODER = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"), sort_keys=False)
CATALOGUE_SECONDS = 3600
JSON = "application/json"


def encode(payload: Mapping[str, Any]) -> bytes:
    """JSON bytes of a payload, members in their given order; NaN or infinity raises ValueError.

    The fast library writes NaN and infinity as null and refuses what is not plain JSON; the standard library has
    the last word on both.
    """
    try:
        encoded = orjson.dumps(payload)
    except TypeError:
        return _ENCODER.encode(payload).encode()
    return _ENCODER.encode(payload).encode() if _may_hold_null(encoded) else encoded


def _may_hold_null(encoded: bytes) -> bool:
    """Whether null stands where a value may; inside of a word it is text."""
    at = encoded.find(b"null")
    while at >= 0:
        if encoded[max(at - 1, 0) : at] in (b"", b":", b",", b"["):
            return True
        at = encoded.find(b"null", at + 4)
    return False


def respond(payload: Mapping[str, Any], language: str | None = None) -> Response:
    """A JSON answer that nobody stores.

    Parameters
    ----------
    payload: what to send; the same payload gives the same bytes.
    language: language of the texts in it, when the answer depends on Accept-Language.
    """
    return send(encode(payload), JSON, language=language)


def send(body: bytes, media_type: str, language: str | None = None) -> Response:
    """An answer of any media type that nobody stores."""
    headers = [("Content-Type", media_type), ("Cache-Control", "no-store"), NO_GUESSING]
    if language is not None:
        headers.append(("Content-Language", language))
    return Whole(body, headers)


class Whole(Response):
    """An answer of status 200 that is sent as it stands: nothing to complete, nothing to close.

    Its headers become Flask's collection only where somebody asks for them, which few routes do.
    """

    _status, _status_code = "200 OK", 200

    def __init__(self, body: bytes, headers: list[tuple[str, str]]) -> None:
        self._plain = [*headers, ("Content-Length", str(len(body)))]
        self.direct_passthrough = False
        self.response = [body]
        self._on_close = []

    @cached_property
    def headers(self) -> Headers:  # type: ignore[override]
        """The headers, to be read or changed."""
        return Headers(self._plain)

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Send it; what was changed or has no body (HEAD, 304) takes the longer way."""
        if "headers" in self.__dict__ or environ["REQUEST_METHOD"] == "HEAD":
            return super().__call__(environ, start_response)
        start_response("200 OK", self._plain)
        body: Iterable[bytes] = self.response  # type: ignore[assignment]
        return body


def catalogue(payload: Mapping[str, Any] | bytes, media_type: str = JSON, language: str | None = None) -> Response:
    """A list that changes only with the version: strong ETag, Cache-Control, 304 when the caller has it."""
    body = payload if isinstance(payload, bytes) else encode(payload)
    response = send(body, media_type, language=language)
    response.headers["Cache-Control"] = f"public, max-age={CATALOGUE_SECONDS}"
    response.set_etag(hashlib.sha256(body).hexdigest()[:32])
    response.make_conditional(request.environ)
    response.headers.pop("Date", None)  # the HTTP server states it already
    return response


def deprecated(response: Response, since: datetime, sunset: datetime | None = None) -> Response:
    """Mark an answer as deprecated (RFC 9745) and, when a day is set, as going away (RFC 8594).

    Both instants must carry a time zone.
    """
    response.headers["Deprecation"] = f"@{int(since.timestamp())}"
    if sunset is not None:
        response.headers["Sunset"] = format_datetime(sunset, usegmt=True)
    return response


def stream(chunks: Iterable[bytes], media_type: str) -> Response:
    """An answer sent piece by piece; between two pieces other requests of this worker have their turn."""
    response = Response(stream_with_context(_taking_turns(chunks)), content_type=media_type)
    response.headers["Cache-Control"] = "no-store"
    response.headers.add(*NO_GUESSING)
    return response


def _taking_turns(chunks: Iterable[bytes]) -> Iterator[bytes]:
    for chunk in chunks:
        yield chunk
        gevent.sleep(0)
