"""A process beside each worker that does its heavy work, so that the worker itself never computes for long.

The worker forks it before it serves anybody and tells it what to do over a pair of sockets, one piece at a time:
several jobs take turns piece by piece. It ends when its worker does. If it dies, its worker is replaced.

Work is weighed before it begins: so much drawing may wait, so many batches of so many bytes may be open. What is
beyond that is told to come again, and nobody else notices.
"""

from __future__ import annotations

import logging
import os
import pickle
import signal
import socket
import struct
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import gevent
from gevent import socket as cooperative
from gevent.lock import BoundedSemaphore

from service.results.refusal import Phrase, phrase
from service.wire.heavy import JOBS, Piece
from service.wire.problems import ProblemError

LOG = logging.getLogger("service")
LONGEST_SECONDS = 20.0
"""A piece that takes longer will not end; a drawing takes less than one."""
DRAWING_WAIT_SECONDS = 2.0
"""So much drawing may wait for its turn in one worker."""
MOST_BATCHES, MOST_BATCH_BYTES = 16, 32 * 1024 * 1024
"""So many batches of so many bytes altogether may be open in one worker."""
NICE = 3
"""Drawing waits for whoever asks for a verdict where processors are short."""
_LENGTH = struct.Struct("!I")
_RECENT = 8
_ESTIMATES = {"note": 0.4, "chart": 0.25, "batch": 0.03}
"""Seconds of a piece of each kind before the first has been measured."""


@dataclass(slots=True)
class _Book:
    """What is open in this worker."""

    drawing_seconds: float = 0.0
    batches: int = 0
    batch_bytes: int = 0


class Helper:
    """The worker's side: jobs are done by the other process, or here where none was started (in tests)."""

    def __init__(self) -> None:
        self.broken = False
        self._socket: Any = None
        self._pid = 0
        self._turn = BoundedSemaphore()
        self._book = _Book()
        self._estimates = dict(_ESTIMATES)
        self._last = 0

    def start(self, *inherited: socket.socket) -> None:
        """Fork the other process; it closes what it inherits of these. Called before the event loop runs."""
        near, far = socket.socketpair()
        self._pid = os.fork()
        if self._pid == 0:
            near.close()
            for listener in inherited:
                listener.close()
            _work_for_ever(far)
        far.close()
        self._socket = cooperative.socket(fileno=near.detach(), family=socket.AF_UNIX, type=socket.SOCK_STREAM)

    def run(self, kind: str, given: Any, language: str, request_id: str) -> Iterator[tuple[Piece, float]]:
        """The pieces of a job, each with the processor time that it took [s].

        Raises
        ------
        ProblemError: 503 when too much is waiting already or the other process is gone, 500 for a defect.
        """
        weight = self._weigh(kind, given)
        self._last += 1
        job = self._last
        request: tuple[Any, ...] = ("begin", job, kind, given, language, request_id)
        del given
        over = False
        try:
            while not over:
                piece, seconds = self._ask(kind, request)
                over = piece.last
                yield piece, seconds
                request = ("go on", job, request_id)
        except ProblemError:
            over = True
            raise
        finally:
            self._settle(kind, weight)
            if not over:
                self._ask(kind, ("forget", job, request_id))

    def _weigh(self, kind: str, given: Any) -> float:
        book = self._book
        if kind == "batch":
            size = float(len(given))
            if book.batches >= MOST_BATCHES or book.batch_bytes + size > MOST_BATCH_BYTES:
                raise _full(5, phrase("full.batches"))
            book.batches += 1
            book.batch_bytes += int(size)
            return size
        seconds = self._estimates[kind]
        if book.drawing_seconds + seconds > DRAWING_WAIT_SECONDS:
            raise _full(2, phrase("full.drawing"))
        book.drawing_seconds += seconds
        return seconds

    def _settle(self, kind: str, weight: float) -> None:
        if kind == "batch":
            self._book.batches -= 1
            self._book.batch_bytes -= int(weight)
        else:
            self._book.drawing_seconds = max(0.0, self._book.drawing_seconds - weight)

    def _ask(self, kind: str, request: tuple[Any, ...]) -> tuple[Piece, float]:
        with self._turn:
            found = _step(request) if self._socket is None else self._exchange(request)
        if found is None:
            raise ProblemError("server.internal-error")
        piece, seconds = found
        self._estimates[kind] += (seconds - self._estimates[kind]) / _RECENT
        return piece, seconds

    def _exchange(self, request: tuple[Any, ...]) -> Any:
        if self.broken:
            raise _full(1)
        try:
            with gevent.Timeout(LONGEST_SECONDS, TimeoutError()):
                _send(self._socket, request)
                return _receive(self._socket)
        except (OSError, EOFError) as error:
            self.broken = True
            LOG.error("the process that draws is gone: %s", type(error).__name__)
            self._end()
            raise _full(1) from None
        except BaseException:  # cut off in the middle of an exchange: nobody knows what is said next
            self.broken = True
            self._end()
            raise

    def _end(self) -> None:
        self._socket.close()
        try:
            os.kill(self._pid, signal.SIGKILL)
            os.waitpid(self._pid, 0)
        except (ProcessLookupError, ChildProcessError):
            pass


HELPER = Helper()
"""Of this process; its worker starts it."""
_OPEN: dict[int, Iterator[Piece]] = {}
"""Jobs that this process is doing, where it is the one that does them."""


def _step(request: tuple[Any, ...]) -> tuple[Piece, float] | None:
    """Do one piece of a job: the piece and the processor time that it took [s]; None when it failed."""
    what, job, *given = request
    if what == "forget":
        _OPEN.pop(job, None)
        return Piece(b"", True), 0.0
    started = time.thread_time()
    try:
        if what == "begin":
            kind, document, language, request_id = given
            _OPEN[job] = JOBS[kind](document, language, request_id)
        piece = next(_OPEN[job])
    except Exception:
        _OPEN.pop(job, None)
        LOG.exception("heavy work failed", extra={"request_id": given[-1]})
        return None
    if piece.last:
        del _OPEN[job]
    return piece, time.thread_time() - started


def _work_for_ever(connection: socket.socket) -> None:
    """Do what the worker says until it is gone; whatever stops the worker does not stop this in mid-work."""
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGQUIT, signal.SIGUSR1, signal.SIGWINCH):
        signal.signal(number, signal.SIG_IGN)
    os.nice(NICE)
    try:
        while True:
            _send(connection, _step(_receive(connection)))
    except (OSError, EOFError):
        pass
    finally:
        sys.stdout.flush()
        os._exit(0)


def _send(connection: Any, message: object) -> None:
    packed = pickle.dumps(message, pickle.HIGHEST_PROTOCOL)
    connection.sendall(_LENGTH.pack(len(packed)) + packed)


def _receive(connection: Any) -> Any:
    """The next message; raises EOFError when the other side is gone. Both sides are this program, forked."""
    (length,) = _LENGTH.unpack(_exactly(connection, _LENGTH.size))
    return pickle.loads(_exactly(connection, length))


def _exactly(connection: Any, length: int) -> bytes:
    pieces = bytearray()
    while len(pieces) < length:
        piece = connection.recv(min(length - len(pieces), 1 << 20))
        if not piece:
            raise EOFError
        pieces += piece
    return bytes(pieces)


def _full(seconds: int, *said: Phrase) -> ProblemError:
    detail = (*said, phrase("full.again"))
    return ProblemError("server.full", detail, headers=(("Retry-After", str(seconds)),))
