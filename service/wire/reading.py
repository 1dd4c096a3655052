"""What a route may read of the current request, strictly: body, language, representation."""

from __future__ import annotations

from time import perf_counter, thread_time
from typing import IO, Any

from flask import Request, request

from service.results.refusal import FieldError, phrase
from service.wire import strict_json
from service.wire.load import ARRIVED, LOAD
from service.wire.preferred import preferred_language
from service.wire.problems import ProblemError

BODY_LIMIT = 64 * 1024
BATCH_LIMIT = 8 * 1024 * 1024
_MOST_DIGITS = 16


def request_object() -> Request:
    """The current request itself, for many looks at it; each look through Flask's stand-in costs a microsecond."""
    found: Request = request._get_current_object()  # type: ignore[attr-defined]
    return found


def read_document(limit: int | None = None) -> dict[str, Any]:
    """The JSON object that was posted.

    Parameters
    ----------
    limit: largest body [byte]; 65,536 when None.

    Raises
    ------
    ProblemError: 415 (media type, any Content-Encoding), 413 (larger), 400 (not strict JSON).
    """
    return strict_json.parse(read_body("application/json", BODY_LIMIT if limit is None else limit))


def read_body(media_type: str, limit: int) -> bytes:
    """The posted bytes, at most `limit` of them; raises ProblemError as read_document does."""
    current = request_object()
    _require_media_type(current, media_type)
    length, stream = _announced(current)
    if length is not None and length > limit:
        raise _too_large(limit)
    started = perf_counter()
    with current.environ[LOAD].arriving:
        raw = _read_up_to(stream, limit + 1 if length is None else length)
    current.environ[ARRIVED] = (perf_counter() - started, thread_time())
    if len(raw) > limit:
        raise _too_large(limit)
    if length is not None and len(raw) < length:
        error = FieldError("", "json.truncated", phrase("json.truncated"))
        raise ProblemError("request.not-json", errors=(error,))
    return raw


def language() -> str:
    """The language that Accept-Language prefers among those spoken here, otherwise English."""
    return preferred_language(request_object().environ)


def representation(*offered: str) -> str:
    """The media type to answer with, the first offered one when Accept is absent; raises ProblemError 406."""
    accept = request_object().environ.get("HTTP_ACCEPT", "")
    if accept in ("", "*/*", offered[0]):
        return offered[0]
    best = request.accept_mimetypes.best_match(offered)
    if best is None:
        detail = phrase("media.offered", types=", ".join(offered))
        raise ProblemError("request.not-acceptable", detail)
    return str(best)


def _require_media_type(current: Request, media_type: str) -> None:
    if current.environ.get("HTTP_CONTENT_ENCODING"):
        raise ProblemError("request.media-type", phrase("media.no-encoding"))
    given = current.environ.get("CONTENT_TYPE", "")
    if given == media_type:
        return
    parameters = current.mimetype_params
    charset = parameters.get("charset", "utf-8").lower()
    if current.mimetype != media_type or charset != "utf-8" or parameters.keys() - {"charset"}:
        raise ProblemError("request.media-type", phrase("media.type", type=media_type))


def _announced(current: Request) -> tuple[int | None, IO[bytes]]:
    """Length of the body, None where it comes in pieces, and where to read it; no more than that is ever read."""
    environ = current.environ
    given = environ.get("CONTENT_LENGTH", "")
    if "HTTP_TRANSFER_ENCODING" in environ or not (given.isdecimal() and len(given) < _MOST_DIGITS):
        return current.content_length, current.stream
    return int(given), environ["wsgi.input"]


def _read_up_to(stream: IO[bytes], most: int) -> bytes:
    chunks: list[bytes] = []
    while most > 0:
        chunk = stream.read(most)
        if not chunk:
            break
        chunks.append(chunk)
        most -= len(chunk)
    return b"".join(chunks)


def _too_large(limit: int) -> ProblemError:
    return ProblemError("request.too-large", phrase("size.body", most=str(limit)))
