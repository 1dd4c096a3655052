"""How far a run is, on the error output: a line that renews itself at a terminal, one in ten elsewhere."""

from __future__ import annotations

import sys
import time
from typing import TextIO

from service.workshop.fleet.judging import Done

STEPS = 10


class Progress:
    """Counts what is done and says so.

    files: how many are to be written in this run. stream: where to; the error output when None.
    """

    def __init__(self, files: int, stream: TextIO | None = None) -> None:
        self.files, self.done, self.rows, self.refused = files, 0, 0, 0
        self.seconds = 0.0
        self.wrong: list[str] = []
        self._stream = stream or sys.stderr
        self._started = time.monotonic()
        self._said = 0

    def tell(self, done: Done) -> None:
        """Count a partition, and say how far it is."""
        self.done += 1
        self.rows += done.rows
        self.refused += done.refused
        self.seconds += done.seconds
        if done.wrong is not None:
            self.wrong.append(done.wrong)
        if self._stream.isatty():
            print(f"\r{self.line()}", end="" if self.done < self.files else "\n", file=self._stream, flush=True)
        elif self.done * STEPS // self.files > self._said:
            self._said = self.done * STEPS // self.files
            print(self.line(), file=self._stream, flush=True)

    def line(self) -> str:
        """Files, visits, pace and what is left."""
        passed = max(time.monotonic() - self._started, 1e-9)
        left = passed / self.done * (self.files - self.done)
        pace = f"{self.rows / passed:.0f} a second, {left / 60:.1f} minutes left"
        return f"{self.done} of {self.files} files, {self.rows} visits, {self.refused} refused, {pace}"
