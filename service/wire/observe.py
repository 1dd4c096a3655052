"""The outermost layer: request ids, one log line and the counters of every request."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from time import perf_counter
from typing import TYPE_CHECKING, Any

from flask import request

from service.library.provenance import edition
from service.results.finding import Finding, State
from service.wire import metrics
from service.wire.failures import LOG, REFUSED, REQUEST_ID
from service.wire.gate import ROUTE
from service.wire.load import LOAD, Load
from service.wire.log_lines import write_line
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
    """A WSGI application under observation."""

    def __init__(self, application: WSGIApplication) -> None:
        self._application = application
        self._load = Load()

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Serve one request, and write it down when its last byte has been handed over."""
        watch = _Watch(environ, self._load)

        def start(status: str, headers: list[tuple[str, str]], *rest: Any) -> Callable[[bytes], object]:
            watch.start(status, headers)
            return start_response(
                status, [*headers, ("X-Request-Id", watch.request_id), ("X-Edition", edition())], *rest
            )

        try:
            body = self._application(environ, start)
        except Exception:
            LOG.exception("exception outside the application", extra={"request_id": watch.request_id})
            body = self._last_resort(watch, start)
        return watch.over(body)

    def _last_resort(self, watch: _Watch, start: StartResponse) -> Iterable[bytes]:
        error = ProblemError("server.internal-error")
        rendered = render(error, watch.request_id)
        watch.environ[REFUSED] = (error.kind.code,)
        start("500 INTERNAL SERVER ERROR", [*rendered.headers, ("Content-Length", str(len(rendered.body)))])
        return [rendered.body]


class _Watch:
    """One request from its start to its end, which is written down once.

    An answer of known length ends when it is handed over; a streamed one when its last piece has gone.
    """

    body: Iterable[bytes]

    def __init__(self, environ: WSGIEnvironment, load: Load) -> None:
        self.environ = environ
        self.status = "500"
        given = environ.get("HTTP_X_REQUEST_ID")
        self.request_id = given if given and _REQUEST_ID.fullmatch(given) else os.urandom(16).hex()
        environ[REQUEST_ID] = self.request_id
        self._load = load
        environ[LOAD] = load
        load.enter()
        self._started = perf_counter()
        self._length: int | None = None
        self._sent = 0
        self._ended = False

    def start(self, status: str, headers: list[tuple[str, str]]) -> None:
        """Note how the answer begins."""
        self.status = status[:3]
        for name, value in headers:
            if name == "Content-Length":
                self._length = int(value)

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
            self._write_down(perf_counter() - self._started)

    def _write_down(self, seconds: float) -> None:
        environ = self.environ
        route, method = environ.get(ROUTE, UNMATCHED), environ["REQUEST_METHOD"]
        metrics.count_request(route, method, self.status, seconds)
        members: dict[str, Any] = {
            "request_id": self.request_id,
            "route": route,
            "method": method if method in metrics.METHODS else "other",
            "status": int(self.status),
            "ms": round(seconds * 1000, 3),
            "bytes": self._sent,
        }
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
