"""The worker process: cooperative, so that slow clients hold a connection and never a worker.

Nothing is monkey-patched: the service opens no connection of its own, so only the accepted sockets have to be
cooperative. Measured on the stock workers: a synchronous one stands still under two slow clients, a threaded
one under as many as it has threads.
"""

from __future__ import annotations

import os
import signal
import socket
import time
from contextlib import suppress
from functools import partial
from typing import Any

import gevent
from gevent import hub
from gevent import socket as cooperative
from gevent.pool import Pool
from gevent.server import StreamServer
from gunicorn.http import wsgi
from gunicorn.http.errors import ParseException
from gunicorn.workers.base import Worker as BaseWorker
from gunicorn.workers.ggevent import GeventWorker

from service.wire import metrics, readiness
from service.wire.admission import PACE
from service.wire.body import read_to_the_end, unreadable
from service.wire.connection import Connection
from service.wire.failures import LOG, REQUEST_ID
from service.wire.helper import HELPER
from service.wire.observe import refused_early
from service.wire.problems import ProblemError
from service.wire.whole_response import WholeResponse

BEAT = 0.2
"""Seconds between heartbeats, and the longest time until a stop is noticed."""
STOPS = (signal.SIGTERM, signal.SIGQUIT, signal.SIGINT)
"""What the master tells a worker to stop with. They wait while it is born: see `Master.spawn_worker`."""
LAST_WORDS = 0.5
"""Seconds that a stopping worker gives to requests that are on their way on kept connections."""


class _Name:
    """The name of a listening socket, still known when it has been closed before its last connection is served."""

    def __init__(self, listener: Any) -> None:
        self._name = listener.getsockname()

    def getsockname(self) -> Any:
        """The address that was listened on."""
        return self._name


class _Waiting:
    """Waiting for a request for a limited time; the worker knows who waits."""

    def __init__(self, waiting: set[socket.socket], seconds: float) -> None:
        self._waiting = waiting
        self._connection: socket.socket = gevent.getcurrent().connection
        self._timeout = gevent.Timeout(seconds, False)

    def __enter__(self) -> None:
        self._waiting.add(self._connection)
        self._timeout.start()

    def __exit__(self, kind: object, value: object, trace: object) -> bool:
        self._waiting.discard(self._connection)
        self._timeout.close()
        return value is self._timeout


class Worker(GeventWorker):  # type: ignore[misc]
    """Serves one request at a time, switches between connections while they wait."""

    serves = True
    """False for the process that answers probes and scrapes alone, on the second port."""

    def __init__(self, *args: Any, **members: Any) -> None:
        super().__init__(*args, **members)
        self._waiting: set[socket.socket] = set()

    def init_process(self) -> None:
        """Make the listening sockets cooperative, then start."""
        self.sockets: list[Any] = [
            cooperative.socket(listener.FAMILY, socket.SOCK_STREAM, fileno=listener.sock.detach())
            for listener in self.sockets
        ]
        if self.serves:
            HELPER.start(*self.sockets)
        hub.reinit()
        hub.get_hub().handle_error = _nobody_caught
        BaseWorker.init_process(self)

    def init_signals(self) -> None:
        """From now on signals are heard here; one to stop that came before is heard at once."""
        super().init_signals()
        signal.pthread_sigmask(signal.SIG_UNBLOCK, STOPS)

    def timeout_ctx(self) -> _Waiting:
        """The time in which the headers of the next request must arrive."""
        return _Waiting(self._waiting, self.cfg.keepalive)

    def handle(self, listener: Any, client: socket.socket, address: Any) -> None:
        """Serve one connection."""
        gevent.getcurrent().connection = client
        super().handle(listener, Connection(client), address)

    def handle_error(self, _req: Any, client: Any, addr: Any, exc: BaseException) -> None:
        """Answer what could not even be handed to the application: the client's mistake, or ours."""
        ours = not isinstance(exc, ParseException)
        problem = ProblemError("server.internal-error") if ours else unreadable(exc)
        answer, request_id = refused_early(problem, str((addr or ("unknown",))[0]))
        if ours:
            LOG.error("exception outside the application", exc_info=exc, extra={"request_id": request_id})
        with suppress(OSError):
            client.sendall(answer)
            client.linger()

    def handle_request(self, listener_name: Any, req: Any, sock: Any, addr: Any) -> None:
        """Serve one request; raises StopIteration when its connection is to be closed."""
        _take_turns()
        self.cfg.pre_request(self, req)
        response, environ = wsgi.create(req, sock, addr, listener_name, self.cfg, response_class=WholeResponse)
        self.nr += 1
        if self.nr >= self.max_requests:
            self.alive = False  # the master starts another one
        if not self.alive:
            response.force_close()
        body = self.wsgi(environ, response.start_response)
        try:
            _send(response, body, environ.get(REQUEST_ID))
        except ConnectionResetError:
            raise StopIteration from None  # nobody is there any more, and nobody is to be told
        finally:
            close = getattr(body, "close", None)
            if close is not None:
                close()
        if response.should_close() or not read_to_the_end(req.body):
            sock.linger()
            raise StopIteration

    def run(self) -> None:
        """Accept until told to stop, then finish what has arrived."""
        watchers = _watch_the_queue()
        servers = [self._listen(listener) for listener in self.sockets]
        while self.alive and not HELPER.broken:
            self.notify()
            if self.serves:
                readiness.beat()
                metrics.state_load()
            gevent.sleep(BEAT)
        self.alive = False
        for server in servers:
            _take_backlog(server)
            server.close()
        self._finish([server.pool for server in servers])
        for watcher in watchers:
            watcher.close()

    def handle_quit(self, _number: int, _frame: Any) -> None:
        """Stop at once; an exception here could be caught by whatever request is at work."""
        os._exit(0)

    def _listen(self, listener: Any) -> StreamServer:
        listener.setblocking(True)
        server = StreamServer(
            listener, handle=partial(self.handle, _Name(listener)), spawn=Pool(self.worker_connections)
        )
        if self.cfg.workers > 1:
            server.max_accept = 1  # otherwise the first worker to wake takes the whole queue
        server.start()
        return server

    def _finish(self, pools: list[Pool]) -> None:
        """Wait for the requests at work; connections that only wait for one are closed."""
        gevent.sleep(LAST_WORDS)
        deadline = time.monotonic() + self.cfg.graceful_timeout
        while any(pools) and time.monotonic() < deadline:
            for connection in list(self._waiting):
                _end_reading(connection)
            self.notify()
            gevent.sleep(BEAT)


def _send(response: Any, body: Any, request_id: str | None) -> None:
    try:
        for piece in body:
            response.write(piece)
        response.close()
    except ConnectionResetError:
        raise
    except Exception:
        if not response.headers_sent:
            raise
        LOG.exception("an answer broke off", extra={"request_id": request_id})
        response.force_close()  # an error page in its middle would look like part of it


def _nobody_caught(_context: object, kind: Any, error: Any, trace: Any) -> None:
    """What ends a connection's greenlet in an unforeseen way is a line like every other."""
    if not issubclass(kind, hub.Hub.NOT_ERROR):
        LOG.error("exception that nobody caught", exc_info=(kind, error, trace))


def _take_turns() -> None:
    """One request a connection and turn: one whose next request is always there already would keep all others out.

    A sleep of no time at all would be over before the loop has looked at the other connections.
    """
    connection = gevent.getcurrent()
    if getattr(connection, "turn", None) == PACE.turns:
        gevent.sleep(1e-6)
    connection.turn = PACE.turns


def _watch_the_queue() -> tuple[Any, Any]:
    """Tell the pace every turn of the loop: last before the loop waits, first when it has found something."""
    loop = hub.get_hub().loop
    before, after = loop.prepare(ref=False, priority=loop.MINPRI), loop.check(ref=False, priority=loop.MAXPRI)
    before.start(PACE.wait)
    after.start(PACE.turn)
    return before, after


def _end_reading(connection: socket.socket) -> None:
    """Let whoever waits for a request read the end; a duplicate, so that gevent does not raise in the waiter."""
    with socket.fromfd(connection.fileno(), connection.family, connection.type) as duplicate:
        duplicate.shutdown(socket.SHUT_RD)


def _take_backlog(server: StreamServer) -> None:
    """Accept every connection that the kernel has already made; closing the socket would reset them."""
    server.stop_accepting()
    while not server.full():
        arguments = server.do_read()
        if not arguments:
            return
        server.do_handle(*arguments)
