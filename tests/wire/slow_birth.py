"""The server, with a second worker that is born slowly: it waits to be told to stop before it has its handlers.

`BORN` names the file that it writes when it begins to wait.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path

from service.__main__ import main
from service.wire.worker import STOPS, Worker

LONGEST_SECONDS = 60.0
"""For a worker that never hears that it is told to stop, which is what this is for."""
init_process = Worker.init_process


def slowly(worker: Worker) -> None:
    """Start when a signal to stop is waiting."""
    if worker.age == 2:
        Path(os.environ["BORN"]).touch()
        end = time.monotonic() + LONGEST_SECONDS
        while not signal.sigpending() & set(STOPS) and time.monotonic() < end:
            time.sleep(0.01)
    init_process(worker)


if __name__ == "__main__":
    Worker.init_process = slowly
    sys.exit(main())
