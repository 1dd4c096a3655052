"""One JSON object a line on standard output; what comes from outside is escaped and cannot forge a line."""

from __future__ import annotations

import json
import logging
import sys
import threading
import time
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any

import orjson

MOST_TRACE = 3000
"""Characters of a trace: a line of at most 4,096 bytes is never mixed with another in a pipe (POSIX, PIPE_BUF)."""
_ENCODER = json.JSONEncoder(ensure_ascii=True, separators=(",", ":"), default=str)
"""For lines with other than ASCII text, which the fast library would leave as it is."""


def write_line(level: str, **members: Any) -> None:
    """Write one line at once, so that lines of several processes never mix."""
    second, millisecond = divmod(time.time_ns() // 1_000_000, 1000)
    content = {"time": f"{_written(second)}.{millisecond:03d}Z", "level": level, **members}
    line = orjson.dumps(content, default=str)
    text = line.decode() if line.isascii() else _ENCODER.encode(content)
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


@lru_cache(maxsize=1)
def _written(second: int) -> str:
    """A second since the epoch in UTC; many lines are written in one."""
    return datetime.fromtimestamp(second, UTC).strftime("%Y-%m-%dT%H:%M:%S")


class JsonLines(logging.Handler):
    """Sends the records of the standard logging module down the same way."""

    def emit(self, record: logging.LogRecord) -> None:
        """Write a record with its trace, if it has one."""
        members: dict[str, Any] = {"logger": record.name, "message": record.getMessage()}
        request_id = getattr(record, "request_id", None)
        if request_id is not None:
            members["request_id"] = request_id
        if record.exc_info and record.exc_info[1] is not None:
            members["trace"] = logging.Formatter().formatException(record.exc_info)[-MOST_TRACE:]
        write_line(record.levelname.lower(), **members)


def take_over_exceptions() -> None:
    """Let whatever nobody catches end as a JSON line: of this process, of its threads, of what is collected."""
    log = logging.getLogger("service")
    sys.excepthook = lambda kind, error, trace: log.critical("exception", exc_info=(kind, error, trace))
    threading.excepthook = lambda found: _unhandled(log, found.exc_value)
    sys.unraisablehook = lambda found: _unhandled(log, found.exc_value)
    logging.captureWarnings(True)


def _unhandled(log: logging.Logger, error: BaseException | None) -> None:
    if isinstance(error, SystemExit):
        return  # a stop that was lost here is heard before anything is served (`service/stopping.py`)
    log.error("exception that nobody caught", exc_info=error)


def take_over(*names: str) -> None:
    """Let the named loggers write JSON lines and nothing else."""
    for name in names:
        logger = logging.getLogger(name)
        logger.handlers = [JsonLines()]
        logger.setLevel(logging.INFO)
        logger.propagate = False
