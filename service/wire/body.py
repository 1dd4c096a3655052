"""The body of a request as it comes over the wire: in time, in turns; whatever breaks it is the client's doing."""

from __future__ import annotations

import time
from typing import Any

import gevent
from gunicorn.http import errors

from service.results.refusal import FieldError, Phrase, phrase
from service.wire.failures import GONE
from service.wire.problems import ProblemError
from service.wire.turns import give_way

STEP, CHUNKED_STEP = 64 * 1024, 4 * 1024
"""Read at most so much [byte] between two looks at the time; in chunks of one byte the second takes 11 ms."""
FRAMING = phrase("body.framing")
TRUNCATED = phrase("json.truncated-chunks")
RESET = phrase("body.reset")

LEFT_SECONDS = 1.0
LEFT_BYTES = 256 * 1024
"""So much of a body that nobody wanted is read before the connection is used again; of more it is closed."""
_HEADS: tuple[tuple[Any, str], ...] = (
    (errors.InvalidRequestLine, "head.line"),
    (errors.InvalidRequestMethod, "head.method"),
    (errors.InvalidHTTPVersion, "head.version"),
    (errors.UnsupportedTransferCoding, "head.transfer-coding"),
    (errors.ExpectationFailed, "head.expectation"),
    (errors.LimitRequestLine, "head.line-length"),
    (errors.LimitRequestHeaders, "head.headers"),
    ((errors.InvalidHeader, errors.InvalidHeaderName, errors.ObsoleteFolding), "head.header"),
)


class ArrivingBody:
    """A request body that must arrive whole before a deadline; the first read starts the clock.

    Parameters
    ----------
    body: what the HTTP parser gives; reading it raises what it makes of broken bytes.
    seconds: time in which the whole of it must arrive [s].
    environ: of its request; says under GONE when there is nobody left to answer.
    """

    def __init__(self, body: Any, seconds: float, environ: dict[str, Any]) -> None:
        self._body = body
        self._seconds = seconds
        self._environ = environ
        self._deadline: float | None = None
        self._step = CHUNKED_STEP if "HTTP_TRANSFER_ENCODING" in environ else STEP

    def read(self, size: int | None = None) -> bytes:
        """Read at least one byte and at most `size`, nothing at the end.

        Raises
        ------
        ProblemError: 408 at the deadline, 400 for a body that is cut off or wrongly framed.
        """
        now = time.monotonic()
        if (
            self._deadline is not None
        ):  # the first step is all that most bodies are: a turn has as many as it finds
            give_way()
            now = time.monotonic()
        self._deadline = self._deadline or now + self._seconds
        if now > self._deadline:
            raise ProblemError("request.too-slow")
        try:
            with gevent.Timeout(max(self._deadline - now, 0.001), False):
                found: bytes = self._body.read(self._step if size is None else min(size, self._step))
                return found
        except (errors.NoMoreData, errors.ChunkMissingTerminator):
            raise _broken("request.not-json", "json.truncated", TRUNCATED) from None
        except OSError:
            self._environ[GONE] = True
            raise ProblemError("request.malformed", RESET) from None
        except Exception:  # whatever the parser makes of these bytes, they are the client's
            raise _broken("request.malformed", "body.framing", FRAMING) from None
        raise ProblemError("request.too-slow")


def read_to_the_end(body: Any) -> bool:
    """Throw away what an answered request has still to say; False where its connection cannot be used again.

    Only the time of the reading counts: under overload others have their turns for more than a second between two
    steps, and a client that has sent all of it long ago would find its connection closed.
    """
    seconds, left = LEFT_SECONDS, LEFT_BYTES
    try:
        while not body.failed and left > 0 and seconds > 0:
            started = time.monotonic()
            with gevent.Timeout(seconds, False):
                read = len(body.read(CHUNKED_STEP))
                left -= read
                if read == 0:
                    return True
            seconds -= time.monotonic() - started
            give_way()
    except Exception:  # it was answered already; what else is wrong with it does not matter
        return False
    return False


def unreadable(error: BaseException) -> ProblemError:
    """The problem of a request whose head the parser refuses; nothing of its text is repeated."""
    for kinds, said in _HEADS:
        if isinstance(error, kinds):
            return ProblemError("request.malformed", phrase(said))
    return ProblemError("request.malformed")


def _broken(problem: str, code: str, said: Phrase) -> ProblemError:
    return ProblemError(problem, errors=(FieldError("", code, said),))
