"""gunicorn, set up in code: preload, cooperative workers, drain on the first SIGTERM, stop on the second."""

from __future__ import annotations

import resource
import signal
import time
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from gunicorn.app.base import BaseApplication
from gunicorn.arbiter import Arbiter
from gunicorn.glogging import Logger

from service.settings import Settings, is_loopback
from service.stopping import leave_if_told
from service.wire import metrics, readiness
from service.wire.body import ArrivingBody
from service.wire.log_lines import take_over, take_over_exceptions, write_line
from service.wire.warm import warm_up
from service.wire.worker import STOPS, Worker

if TYPE_CHECKING:
    from collections.abc import Iterable

    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

KEEP_ALIVE_SECONDS = 10
STOP_SECONDS = 30
HEARTBEAT_SECONDS = 30


class _Lines(Logger):  # type: ignore[misc]
    """gunicorn's own messages as JSON lines."""

    def setup(self, configuration: Any) -> None:
        """Set the level, then write like everything else."""
        super().setup(configuration)
        take_over("gunicorn.error")


class Master(Arbiter):  # type: ignore[misc]
    """The parent of the workers."""

    _stop_at: float | None = None
    _probed: int | None = None

    def spawn_worker(self) -> int:
        """Start a worker on the first port, or the one that answers probes and scrapes on the second.

        That one never computes, so it answers whatever the others are doing. All of them together would answer
        probes when their turn comes.

        A worker is born with the handlers of its parent, in which a signal to stop would be lost. So these wait
        until it has its own (`Worker.init_signals`).
        """
        every: list[Any] = self.LISTENERS  # type: ignore[has-type]
        alone = len(every) > 1 and self._probed not in self.WORKERS
        self.LISTENERS = every[1:] if alone else every[:1]
        self.app.next_serves = not alone
        signal.pthread_sigmask(signal.SIG_BLOCK, STOPS)
        try:
            pid: int = super().spawn_worker()
        finally:
            self.LISTENERS = every
            signal.pthread_sigmask(signal.SIG_UNBLOCK, STOPS)
        if alone:
            self._probed = pid
        return pid

    def init_signals(self) -> None:
        """Take the signals over; one that came before and was lost on the way is heard now."""
        super().init_signals()
        leave_if_told()

    def handle_term(self) -> None:
        """First SIGTERM: not ready any more, but serving until the drain is over; second: stop at once."""
        if self._stop_at is not None:
            self.stop(graceful=False)
            raise StopIteration
        readiness.start_draining()
        self._stop_at = time.monotonic() + self.app.settings.drain_seconds
        self.log.info("draining for %s s", self.app.settings.drain_seconds)

    def reload(self) -> None:
        """SIGHUP: all processes anew, the one that answers probes among them."""
        self._probed = None
        super().reload()

    def wait_for_signals(self, timeout: float = 1.0) -> list[int]:
        """Wait no longer than until the drain is over."""
        if self._stop_at is not None:
            left = self._stop_at - time.monotonic()
            if left <= 0:
                raise StopIteration
            timeout = min(timeout, left)
        signals: list[int] = super().wait_for_signals(timeout)
        return signals

    def stop(self, graceful: bool = True) -> None:
        """Stop the workers; a SIGTERM that comes while they finish stops them at once."""
        if graceful:
            signal.signal(signal.SIGTERM, lambda *_: self.SIG_QUEUE.put_nowait(signal.SIGQUIT))
        super().stop(graceful)


class Server(BaseApplication):  # type: ignore[misc]
    """The service under gunicorn.

    Parameters
    ----------
    bind: HOST:PORT to serve on.
    settings: how to run.
    make_application: called once in the master, before the workers are forked.
    """

    def __init__(
        self, bind: str, settings: Settings, make_application: Callable[[Settings], WSGIApplication]
    ) -> None:
        self.settings = settings
        self._bind = bind
        self._make_application = make_application
        self.next_serves = True
        super().__init__()

    def load_config(self) -> None:
        """State everything that differs from gunicorn's defaults, with the reason where it is not plain."""
        operations = [self.settings.operations_bind] if self.settings.operations_bind else []
        values: dict[str, Any] = {
            "bind": [self._bind, *operations],
            "workers": self.settings.web_concurrency + len(operations),
            "worker_class": Worker,
            "worker_connections": _connections(),
            "proc_name": "air-conditioner-diagnosis",
            "preload_app": True,
            "keepalive": KEEP_ALIVE_SECONDS,
            "timeout": HEARTBEAT_SECONDS,
            "graceful_timeout": STOP_SECONDS,
            "max_requests": self.settings.worker_requests,
            "max_requests_jitter": self.settings.worker_requests // 10,
            # its socket lies in the home directory, which a locked-down container does not have
            "control_socket_disable": True,
            # no header of a client may change the path or the scheme
            "forwarded_allow_ips": "",
            "forwarder_headers": "",
            "logger_class": _Lines,
            "post_fork": self._started,
            "child_exit": lambda _master, worker: metrics.worker_ended(worker.pid),
            "pre_request": _close_while_draining,
        }
        for name, value in values.items():
            self.cfg.set(name, value)

    def load(self) -> WSGIApplication:
        """The application, with a deadline on every body.

        What draws is left to the first drawing of each helper, which waits a third of a second for it. Loaded
        here it would cost 46 MiB in a service of two workers that draws nothing; loaded ahead by the helpers, 69.
        """
        application = self._make_application(self.settings)
        warm_up()
        seconds = self.settings.body_seconds

        def in_time(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
            environ["wsgi.input"] = ArrivingBody(environ["wsgi.input"], seconds, environ)
            return application(environ, start_response)

        return in_time

    def _started(self, _: Any, worker: Worker) -> None:
        worker.serves = self.next_serves
        if worker.serves:
            metrics.worker_started(self.settings.in_flight_limit)

    def run(self) -> None:
        """Serve until told to stop; leaves by SystemExit."""
        take_over("service", "py.warnings")
        take_over_exceptions()
        keys = self.settings.keys_asked_for
        write_line("info", message="starting", bind=self._bind, access=f"API keys are {'on' if keys else 'off'}")
        if not keys and not is_loopback(self._bind):
            said = "no API keys are set: whoever reaches this address may use the service"
            write_line("warning", message=said, bind=self._bind)
        readiness.beat()
        Master(self).run()


def _connections() -> int:
    """Connections a worker may hold: a thousand, or what the limit on open files leaves."""
    files, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    return max(16, min(1000, files - 64))


def _close_while_draining(_: Any, request: Any) -> None:
    """Let kept connections end, so that their next request goes to another instance."""
    if readiness.draining():
        request.must_close = True
