"""Turning work away before it costs anything: too many at work, or one that has waited too long already.

Under cooperative workers a computation is never interrupted, so requests wait in the kernel where no
counter of this process sees them. The kernel knows when the last byte of a request arrived (TCP_INFO).

A burst may wait for the whole of the allowed time. A queue that outlasts a burst stands: from then on a request
may only have waited as long as a few others take, so that the ones that are served are served fast (controlled
delay, as described by B. Maurer, Fail at Scale, ACM Queue 13(8), 2015; there the shorter time is fixed, here it
follows the service time, since a slow machine would otherwise refuse what a few patient callers ask).

Whether the queue stands cannot be read from the waits: what the event loop finds in one turn it serves youngest
first, so under the worst overload there is always one that has hardly waited. `Pace` counts turn by turn instead.
"""

from __future__ import annotations

import socket
import struct
from collections.abc import Iterable
from time import monotonic, thread_time
from typing import TYPE_CHECKING

from service.wire.failures import REFUSED, REQUEST_ID
from service.wire.load import LOAD
from service.wire.preferred import preferred_language
from service.wire.problems import ProblemError, render

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

PROBES = frozenset({"/livez", "/readyz", "/version", "/metrics"})
_LAST_DATA_RECEIVED = struct.Struct("=I")
_PAUSE = 0.001
"""A loop that had to wait longer than this [s] for something to do had an empty queue."""
_SHORT = 16
"""So many requests in a turn are no queue worth cutting; common practice, no source."""
_AHEAD = 8
"""So many others of average length a request may wait for in a queue that stands; common practice, no source."""
_BURST, _BURST_MILLISECONDS = 20, 60
"""So many requests in a row, or more that make less work than this [ms], are a burst. With half as much again, the
slow ones among them would be more than a hundredth of what twenty seconds of overload get served."""
_UNNOTICED = 20
"""A wait [ms] that hardly anybody at the other end of a network notices; common practice, no source."""
_RECENT = 16
"""The average service time follows about as many of the last requests."""
_OFFSET = 52
"""tcpi_last_data_recv [ms]: eight bytes, then eleven 32-bit members stand before it (linux/tcp.h)."""


class Pace:
    """What one worker knows of its queue: whether it stands, and how long a request takes.

    A queue stands when turns of the event loop with more than a few requests have brought more than a burst in a
    row. It is over at a turn that brought none, or for which the loop had to wait; if it is back at once it has
    had its burst. A burst is measured by its work, not by the time that passes: on a machine that is held up it
    lasts long without being more than one.
    """

    def __init__(self) -> None:
        self.service_milliseconds = 0.0
        self.processor_milliseconds = 0.0
        self.turns = 0
        self.stands = False
        self._in_turn = 0
        self._in_a_row = 0
        self._waiting_since = monotonic()
        self._turned_at = self._waiting_since

    def wait(self) -> None:
        """The loop is about to look for something to do."""
        self._waiting_since = monotonic()

    def turn(self) -> None:
        """The loop has found something to do."""
        self._turned_at = monotonic()
        empty = not self._in_turn or self._turned_at - self._waiting_since > _PAUSE
        if empty or (self._in_turn <= _SHORT and not self.stands):
            self._in_a_row = _BURST if self.stands else 0
            self.stands = False
        self._in_turn = 0
        self.turns += 1

    def lasted(self) -> float:
        """How long this turn of the loop has lasted [s]."""
        return monotonic() - self._turned_at

    def request(self) -> None:
        """A request has its turn."""
        self._in_turn += 1
        self._in_a_row += 1
        work = self._in_a_row * self.processor_milliseconds
        self.stands = self.stands or (self._in_a_row > _BURST and work > _BURST_MILLISECONDS)

    def served(self, milliseconds: float, of_processor: float) -> None:
        """A request was served without interruption, in so many milliseconds, of which so many were computing."""
        self.service_milliseconds += (milliseconds - self.service_milliseconds) / _RECENT
        self.processor_milliseconds += (of_processor - self.processor_milliseconds) / _RECENT


PACE = Pace()
"""The pace of this process; its worker's event loop tells it every turn."""


class Admission:
    """A WSGI application that answers 503 with Retry-After instead of letting its queue grow.

    Parameters
    ----------
    application: what serves the requests that are let in.
    in_flight_limit: most requests at work or waiting in this process.
    queue_milliseconds: longest time between the arrival of a request's last byte and its turn [ms].
    pace: what is known of the queue.
    """

    def __init__(
        self, application: WSGIApplication, in_flight_limit: int, queue_milliseconds: int, pace: Pace = PACE
    ) -> None:
        self._application = application
        self._in_flight_limit = in_flight_limit
        self._longest = queue_milliseconds
        self._pace = pace

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Let one request in or turn it away; probes are always let in."""
        if environ["PATH_INFO"] in PROBES:
            return self._application(environ, start_response)
        self._pace.request()
        if not self._full(environ):
            return self._timed(environ, start_response)
        error = ProblemError("server.full", headers=(("Retry-After", "1"),))
        rendered = render(error, environ[REQUEST_ID], preferred_language(environ))
        environ[REFUSED] = (error.kind.code,)
        length = ("Content-Length", str(len(rendered.body)))
        start_response("503 SERVICE UNAVAILABLE", [*rendered.headers, length])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [rendered.body]

    def _full(self, environ: WSGIEnvironment) -> bool:
        if environ[LOAD].requests > self._in_flight_limit:
            return True
        connection = environ.get("gunicorn.socket")
        return connection is not None and waited_milliseconds(connection) > self._allowed_milliseconds

    def _timed(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        started, computed, turn = monotonic(), thread_time(), self._pace.turns
        body = self._application(environ, start_response)
        if self._pace.turns == turn:  # otherwise others were served meanwhile
            self._pace.served((monotonic() - started) * 1000, (thread_time() - computed) * 1000)
        return body

    @property
    def _allowed_milliseconds(self) -> float:
        """How long a request may have waited now."""
        if not self._pace.stands:
            return self._longest
        return min(max(_AHEAD * self._pace.service_milliseconds, _UNNOTICED), self._longest)


def waited_milliseconds(connection: socket.socket) -> int:
    """Milliseconds since the last byte arrived on a connection; 0 where the kernel does not tell."""
    try:
        raw = connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, _OFFSET + 4)
    except (OSError, AttributeError):
        return 0
    return int(_LAST_DATA_RECEIVED.unpack_from(raw, _OFFSET)[0]) if len(raw) >= _OFFSET + 4 else 0
