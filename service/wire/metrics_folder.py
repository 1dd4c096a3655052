"""The folder in which the workers keep their counters; prepared before the client library is imported."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

VARIABLE = "PROMETHEUS_MULTIPROC_DIR"


@contextmanager
def metrics_folder(wanted: Path | None) -> Iterator[Path]:
    """An empty folder, announced to the client library; a temporary one, in memory where possible, when None.

    The client library never removes a counter's file, so what an earlier run left is emptied first.
    """
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
    folder = wanted or Path(tempfile.mkdtemp(prefix="metrics-", dir=memory))
    folder.mkdir(parents=True, exist_ok=True)
    for left_over in folder.glob("*.db"):
        left_over.unlink()
    os.environ[VARIABLE] = str(folder)
    master = os.getpid()
    try:
        yield folder
    finally:
        if wanted is None and os.getpid() == master:
            shutil.rmtree(folder, ignore_errors=True)
