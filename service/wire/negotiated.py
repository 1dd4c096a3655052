"""What depends on a request's headers and not on its path: compression, what caches may mix up, other origins.

Every answer says all that it can depend on (`Vary`), so that no cache gives one caller what another asked for.
The layer stands outside of the routes, because refusals of
the outer layers are answers too.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any

from werkzeug.datastructures import Accept
from werkzeug.http import parse_accept_header

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

GZIP = "gzip"
TAG_SUFFIX = "-gzip"
"""A strong ETag names the bytes, and compressed ones are others."""
TAGGED = f'{TAG_SUFFIX}"'
LEAST_BYTES = 1024
"""A shorter answer fits into one packet as it is."""
LEVEL = 4
"""Of zlib: nine tenths of what the highest level saves, at a third of its time (measured on assessments)."""
GZIP_WINDOW = 16 + zlib.MAX_WBITS
COMPRESSIBLE = ("application/json", "application/problem+json", "application/x-ndjson", "image/svg+xml", "text/")
ASKED_BY = ("Accept", "Accept-Language", "Accept-Encoding")
ORIGIN = "Origin"
OPEN = frozenset({"/livez", "/readyz", "/version", "/metrics"})
"""What depends on no header of a request; monitoring asks for it often and gets it as it stands."""
EXPOSED = "X-Request-Id, X-Edition, ETag, Retry-After, Content-Language, Deprecation, Sunset"
ALLOWED_HEADERS = "Accept, Accept-Language, Content-Type, If-None-Match, X-Api-Key, X-Request-Id, traceparent"
ALLOWED_METHODS = "GET, HEAD, POST, OPTIONS"
PREFLIGHT_SECONDS = "600"

Headers = list[tuple[str, str]]


class Negotiated:
    """A WSGI application that completes the answers of another one.

    Parameters
    ----------
    application: what answers.
    origins: origins (RFC 6454) whose pages may call from a browser.
    """

    def __init__(self, application: WSGIApplication, origins: frozenset[str]) -> None:
        self._application = application
        self._origins = origins
        named = (*ASKED_BY, *((ORIGIN,) if origins else ()))
        self._vary = ("Vary", ", ".join(named))

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Answer one request."""
        if environ["PATH_INFO"] in OPEN:
            return self._application(environ, start_response)
        origin = environ.get("HTTP_ORIGIN")
        allowed = origin if origin in self._origins else None
        if allowed and environ["REQUEST_METHOD"] == "OPTIONS" and "HTTP_ACCESS_CONTROL_REQUEST_METHOD" in environ:
            start_response("204 NO CONTENT", [*_preflight(allowed), self._vary])
            return []
        answer = _Answer(environ, start_response, self._vary, allowed)
        return answer.of(self._application(environ, answer.start))


def _preflight(origin: str) -> Headers:
    """What a browser asks before it sends (Fetch standard, CORS-preflight); it carries no key."""
    return [
        ("Access-Control-Allow-Origin", origin),
        ("Access-Control-Allow-Methods", ALLOWED_METHODS),
        ("Access-Control-Allow-Headers", ALLOWED_HEADERS),
        ("Access-Control-Max-Age", PREFLIGHT_SECONDS),
        ("Cache-Control", "no-store"),
    ]


class _Answer:
    """One answer on its way out. The head is held back until the body is there, which may change its length."""

    def __init__(
        self,
        environ: WSGIEnvironment,
        start_response: StartResponse,
        vary: tuple[str, str],
        origin: str | None,
    ) -> None:
        self._start_response = start_response
        self._vary, self._origin = vary, origin
        self._gzip = accepts_gzip(environ.get("HTTP_ACCEPT_ENCODING", ""))
        self._head = environ["REQUEST_METHOD"] == "HEAD"
        self._started: tuple[str, Headers, tuple[Any, ...]] = ("", [], ())
        given = environ.get("HTTP_IF_NONE_MATCH", "")
        self._has_squeezed = TAGGED in given
        if self._has_squeezed:
            environ["HTTP_IF_NONE_MATCH"] = given.replace(TAGGED, '"')

    def start(self, status: str, headers: Headers, *rest: Any) -> Callable[[bytes], object]:
        """Note how the answer begins."""
        self._started = status, headers, rest
        return _no_write

    def of(self, body: Iterable[bytes]) -> Iterable[bytes]:
        """The body to hand on, after its head."""
        status, headers, rest = self._started
        headers = [*headers, self._vary]  # the outermost layer makes one of several, with the key's header
        if self._origin:
            headers += [("Access-Control-Allow-Origin", self._origin), ("Access-Control-Expose-Headers", EXPOSED)]
        squeezed = self._gzip and self._is_worth_it(status, headers)
        if squeezed or (self._has_squeezed and status.startswith("304")):
            headers = [_tagged(item) for item in headers]
        if squeezed:
            body, headers = self._squeezed(body, headers)
        self._start_response(status, headers, *rest)
        return body

    def _is_worth_it(self, status: str, headers: Headers) -> bool:
        told = dict(headers)
        length = told.get("Content-Length")
        return (
            status[:3] not in ("204", "304")
            and told.get("Content-Type", "").startswith(COMPRESSIBLE)
            and (length is None or int(length) >= LEAST_BYTES)
        )

    def _squeezed(self, body: Iterable[bytes], headers: Headers) -> tuple[Iterable[bytes], Headers]:
        was_whole = any(name == "Content-Length" for name, _ in headers)
        headers = [item for item in headers if item[0] != "Content-Length"] + [("Content-Encoding", GZIP)]
        if self._head:  # its length would be that of bytes that nobody makes
            return body, headers
        if not was_whole:
            return _Squeezing(body), headers
        squeezer = zlib.compressobj(LEVEL, zlib.DEFLATED, GZIP_WINDOW)  # no time stamp: the same bytes every time
        whole = squeezer.compress(b"".join(body)) + squeezer.flush()
        close = getattr(body, "close", None)
        if close is not None:
            close()
        return [whole], [*headers, ("Content-Length", str(len(whole)))]


class _Squeezing:
    """A streamed body, compressed piece by piece, so that each piece can be read when it arrives."""

    def __init__(self, body: Iterable[bytes]) -> None:
        self._body = body

    def __iter__(self) -> Iterator[bytes]:
        squeezer = zlib.compressobj(LEVEL, zlib.DEFLATED, GZIP_WINDOW)
        for piece in self._body:
            yield squeezer.compress(piece) + squeezer.flush(zlib.Z_SYNC_FLUSH)
        yield squeezer.flush()

    def close(self) -> None:
        """Release the body."""
        close = getattr(self._body, "close", None)
        if close is not None:
            close()


def accepts_gzip(given: str) -> bool:
    """Whether Accept-Encoding (RFC 9110, section 12.5.3) lets an answer come compressed."""
    return bool(given) and parse_accept_header(given, Accept)[GZIP] > 0


def _tagged(item: tuple[str, str]) -> tuple[str, str]:
    return (item[0], item[1][:-1] + TAGGED) if item[0] == "ETag" else item


def _no_write(_: bytes) -> object:
    raise AssertionError("the service's own applications return their bodies")
