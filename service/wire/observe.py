"""The outermost layer: request ids, one log line and the counters of every request."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from http import HTTPStatus
from time import perf_counter, thread_time
from typing import TYPE_CHECKING, Any

from flask import request

from service.library.provenance import edition
from service.results.finding import Finding, State
from service.wire import metrics
from service.wire.addresses import address_finder
from service.wire.failures import GONE, LOG, REFUSED, REQUEST_ID
from service.wire.gate import CALLER, ROUTE, VARY
from service.wire.load import ARRIVED, COST, LOAD, Load
from service.wire.log_lines import write_line
from service.wire.preferred import preferred_language
from service.wire.problems import ProblemError, render

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

UNMATCHED = "unmatched"
_FINDINGS = "service.findings"
_REQUEST_ID = re.compile(r"[A-Za-z0-9._-]{1,64}")
_TRACEPARENT = re.compile(r"[0-9a-f]{2}-([0-9a-f]{32})-[0-9a-f]{16}-[0-9a-f]{2}")


def judged(found: Iterable[Finding]) -> None:
    """Note what failed or is for review in the current answer; what passed says nothing of the units out there."""
    findings(item.code for item in found if item.state in (State.FAIL, State.REVIEW))


def findings(codes: Iterable[str]) -> None:
    """Note the finding codes of the current answer for log and metrics; adds up over the lines of a batch."""
    noted: Counter[str] = request.environ.setdefault(_FINDINGS, Counter())
    noted.update(codes)


class Observed:
    """A WSGI application under observation.

    Parameters
    ----------
    application: what serves the requests.
    proxy_networks: of the proxies that are believed when they say where a request comes from.
    private: nothing may be kept by a cache that several callers share, because callers have keys.
    """

    def __init__(
        self, application: WSGIApplication, proxy_networks: tuple[str, ...] = (), private: bool = False
    ) -> None:
        self._application = application
        self._address_of = address_finder(proxy_networks)
        self._private = private
        self._load = Load()

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Serve one request, and write it down when its last byte has been handed over."""
        watch = _Watch(environ, self._load, self._address_of(environ))

        def start(status: str, headers: list[tuple[str, str]], *rest: Any) -> Callable[[bytes], object]:
            watch.start(status, headers)
            kept = _for_caches(headers, environ.get(VARY, ()), self._private)
            own = (("X-Request-Id", watch.request_id), ("X-Edition", edition()), ("Server-Timing", watch.timing()))
            return start_response(status, [*kept, *own], *rest)

        try:
            body = self._application(environ, start)
        except Exception:
            LOG.exception("exception outside the application", extra={"request_id": watch.request_id})
            body = self._last_resort(watch, start)
        return watch.over(body)

    def _last_resort(self, watch: _Watch, start: StartResponse) -> Iterable[bytes]:
        error = ProblemError("server.internal-error")
        rendered = render(error, watch.request_id, preferred_language(watch.environ))
        watch.environ[REFUSED] = (error.kind.code,)
        start("500 INTERNAL SERVER ERROR", [*rendered.headers, ("Content-Length", str(len(rendered.body)))])
        return [rendered.body]


def _for_caches(headers: list[tuple[str, str]], also: tuple[str, ...], private: bool) -> Iterable[tuple[str, str]]:
    """The headers with everything that the answer depends on in Vary; with keys on nothing is public."""
    vary, others = [*also], []
    for item in headers:
        if item[0] == "Vary":
            vary += item[1].split(", ")
        else:
            others.append(item)
    if vary:
        headers = [*others, _vary(tuple(vary))]
    if private:
        return [
            (name, value.replace("public", "private") if name == "Cache-Control" else value)
            for name, value in headers
        ]
    return headers


@lru_cache(maxsize=64)
def _vary(names: tuple[str, ...]) -> tuple[str, str]:
    """The header that names each once; the names are those of this service's own answers."""
    return "Vary", ", ".join(sorted(set(names)))


def refused_early(error: ProblemError, address: str) -> tuple[bytes, str]:
    """Count and log a request that no application could be given; its problem document and id."""
    request_id = os.urandom(16).hex()
    rendered = render(error, request_id)
    metrics.count_request(UNMATCHED, "other", str(rendered.status), 0.0)
    metrics.count_refusal(error.kind.code, rendered.codes)
    write_line(
        "error" if rendered.status >= 500 else "info",
        request_id=request_id, route=UNMATCHED, method="other", status=rendered.status, ms=0.0,
        bytes=len(rendered.body), address=address, refused=sorted({error.kind.code, *rendered.codes}),
    )  # fmt: skip
    head = [f"HTTP/1.1 {rendered.status} {HTTPStatus(rendered.status).phrase}", "Connection: close"]
    head += [f"{name}: {value}" for name, value in [*rendered.headers, ("X-Request-Id", request_id)]]
    length = f"Content-Length: {len(rendered.body)}"
    return "\r\n".join([*head, length, "", ""]).encode("ascii") + rendered.body, request_id


class _Watch:
    """One request from its start to its end, which is written down once.

    An answer of known length ends when it is handed over; a streamed one when its last piece has gone.
    """

    body: Iterable[bytes]

    def __init__(self, environ: WSGIEnvironment, load: Load, address: str) -> None:
        self.environ = environ
        self._address = address
        self.status = "500"
        given = environ.get("HTTP_X_REQUEST_ID")
        self.request_id = given if given and _REQUEST_ID.fullmatch(given) else os.urandom(16).hex()
        environ[REQUEST_ID] = self.request_id
        self._load = load
        environ[LOAD] = load
        load.enter()
        self._started, self._computed = perf_counter(), thread_time()
        self._length: int | None = None
        self._sent = 0
        self._ended = False

    def start(self, status: str, headers: list[tuple[str, str]]) -> None:
        """Note how the answer begins."""
        self.status = status[:3]
        for name, value in headers:
            if name == "Content-Length":
                self._length = int(value)

    def timing(self) -> str:
        """What the answer has cost until now (Server-Timing, W3C): time without the upload, processor time."""
        upload = self._upload()[0]
        total = perf_counter() - self._started - upload
        return f"total;dur={total * 1000:.1f}, processor;dur={self._processor() * 1000:.1f}"

    def _upload(self) -> tuple[float, float]:
        """Seconds in which the body arrived, and the processor time when it had."""
        found: tuple[float, float] = self.environ.get(ARRIVED, (0.0, self._computed))
        return found

    def _processor(self) -> float:
        """Processor time [s] of this answer; what others got while its body was on the way does not count."""
        elsewhere: float | None = self.environ.get(COST)
        return max(thread_time() - self._upload()[1], 0.0) if elsewhere is None else elsewhere

    def over(self, body: Iterable[bytes]) -> Iterable[bytes]:
        """The body to hand to the server."""
        if self._length is None and self.status not in ("204", "304"):
            self.body = body
            return self
        self._sent = 0 if self.environ["REQUEST_METHOD"] == "HEAD" else self._length or 0
        self._end()
        return body

    def __iter__(self) -> Iterator[bytes]:
        for chunk in self.body:
            self._sent += len(chunk)
            yield chunk
        self._end()

    def close(self) -> None:
        """Release the answer; also the end of one that was cut off."""
        close = getattr(self.body, "close", None)
        if close is not None:
            close()
        self._end()

    def _end(self) -> None:
        if not self._ended:
            self._ended = True
            self._load.leave()
            self._write_down(perf_counter() - self._started - self._upload()[0])

    def _write_down(self, seconds: float) -> None:
        environ = self.environ
        route, method = environ.get(ROUTE, UNMATCHED), environ["REQUEST_METHOD"]
        caller, upload, gone = environ.get(CALLER), environ.get(ARRIVED), GONE in environ
        members: dict[str, Any] = {
            "request_id": self.request_id,
            "route": route,
            "method": method if method in metrics.METHODS else "other",
            "status": None if gone else int(self.status),
            "ms": round(seconds * 1000, 3),
            "bytes": self._sent,
            "address": self._address,
        }
        if caller is not None:
            members["caller"] = caller
        if upload is not None:
            members["upload_ms"] = round(upload[0] * 1000, 3)
            metrics.count_upload(route, upload[0])
        if gone:
            members["gone"] = True
            metrics.count_gone(route)
            write_line("info", **members)
            return
        metrics.count_request(route, method, self.status, seconds)
        metrics.count_caller(caller, self.status, self._processor())
        parent = environ.get("HTTP_TRACEPARENT")
        if parent and (trace := _TRACEPARENT.fullmatch(parent)):
            members["trace_id"] = trace[1]
        noted = environ.get(_FINDINGS)
        if noted:
            metrics.count_findings(noted.elements())
            members["findings"] = sorted(noted)
        refused = environ.get(REFUSED)
        if refused:
            metrics.count_refusal(refused[0], refused[1:])
            members["refused"] = sorted(set(refused))
        write_line("error" if self.status >= "500" and self.status != "503" else "info", **members)
