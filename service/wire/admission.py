"""Turning work away before it costs anything: too many at work, or one that has waited too long already.

Under cooperative workers a computation is never interrupted, so requests wait in the kernel where no
counter of this process sees them. The kernel knows when the last byte of a request arrived (TCP_INFO).

A burst may wait for the whole of the allowed time. A queue that has not been empty for that long is no burst:
from then on only those are served that have waited half of it, so that the ones that are served are served
fast (controlled delay, as described by B. Maurer, Fail at Scale, ACM Queue 13(8), 2015).
"""

from __future__ import annotations

import socket
import struct
from collections.abc import Iterable
from time import monotonic
from typing import TYPE_CHECKING

from service.wire.failures import REFUSED, REQUEST_ID
from service.wire.load import LOAD
from service.wire.problems import ProblemError, render

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

PROBES = frozenset({"/livez", "/readyz", "/version", "/metrics"})
_LAST_DATA_RECEIVED = struct.Struct("=I")
_AT_ONCE = 2
"""A request that has waited no longer than this [ms] found no queue."""
_OFFSET = 52
"""tcpi_last_data_recv [ms]: eight bytes, then eleven 32-bit members stand before it (linux/tcp.h)."""


class Admission:
    """A WSGI application that answers 503 with Retry-After instead of letting its queue grow.

    Parameters
    ----------
    application: what serves the requests that are let in.
    in_flight_limit: most requests at work or waiting in this process.
    queue_milliseconds: longest time between the arrival of a request's last byte and its turn [ms].
    """

    def __init__(self, application: WSGIApplication, in_flight_limit: int, queue_milliseconds: int) -> None:
        self._application = application
        self._in_flight_limit = in_flight_limit
        self._burst = queue_milliseconds
        self._standing = queue_milliseconds // 2
        self._last_empty = monotonic()

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Let one request in or turn it away; probes are always let in."""
        if environ["PATH_INFO"] in PROBES or not self._full(environ):
            return self._application(environ, start_response)
        error = ProblemError("server.full", headers=(("Retry-After", "1"),))
        rendered = render(error, environ[REQUEST_ID])
        environ[REFUSED] = (error.kind.code,)
        length = ("Content-Length", str(len(rendered.body)))
        start_response("503 SERVICE UNAVAILABLE", [*rendered.headers, length])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [rendered.body]

    def _full(self, environ: WSGIEnvironment) -> bool:
        if environ[LOAD].requests > self._in_flight_limit:
            return True
        connection = environ.get("gunicorn.socket")
        return connection is not None and self._queued_too_long(waited_milliseconds(connection))

    def _queued_too_long(self, waited: int) -> bool:
        now = monotonic()
        if waited <= _AT_ONCE:
            self._last_empty = now
        is_burst = (now - self._last_empty) * 1000 <= self._burst
        return waited > (self._burst if is_burst else self._standing)


def waited_milliseconds(connection: socket.socket) -> int:
    """Milliseconds since the last byte arrived on a connection; 0 where the kernel does not tell."""
    try:
        raw = connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, _OFFSET + 4)
    except (OSError, AttributeError):
        return 0
    return int(_LAST_DATA_RECEIVED.unpack_from(raw, _OFFSET)[0]) if len(raw) >= _OFFSET + 4 else 0
