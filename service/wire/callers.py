"""Who may call: API keys with names, kept as digests, read again when their file changes."""

from __future__ import annotations

import hashlib
import hmac
import logging
import os
import time
from pathlib import Path

from service.settings import read_keys

LOG = logging.getLogger("service")
LOOK_SECONDS = 1.0
"""So often [s] the file is looked at; a key that was taken away opens nothing after that."""
_Seen = tuple[int, int, int]


class Callers:
    """The names behind the keys.

    Parameters
    ----------
    keys: `name:digest` entries that stay as long as the process.
    file: more of them, one a line; None: there is no file.
    """

    def __init__(self, keys: frozenset[str], file: Path | None) -> None:
        self._fixed = keys
        self._file = file
        self._seen: _Seen | None = None
        self._unreadable = False
        self._looked = 0.0
        self._named: list[tuple[bytes, str]] = _by_digest(keys)
        self.asked_for = bool(keys or file)
        self._look_again()

    def name_of(self, key: str) -> str | None:
        """The name of a key, None for one that nobody has.

        Compared with every digest, each in constant time, so that timing tells nothing about any of them.
        """
        if self._file is not None and time.monotonic() - self._looked > LOOK_SECONDS:
            self._look_again()
        given = hashlib.sha256(key.encode("utf-8", "surrogateescape")).digest()
        found = [name for digest, name in self._named if hmac.compare_digest(given, digest)]
        return found[0] if found else None

    def _look_again(self) -> None:
        """Read the file when it is another one; a file that cannot be read leaves the keys as they were."""
        self._looked = time.monotonic()
        if self._file is None:
            return
        try:
            status = os.stat(self._file)
            seen = (status.st_mtime_ns, status.st_size, status.st_ino)
            if seen == self._seen:
                return
            named = _by_digest(self._fixed | read_keys(self._file))
        except (OSError, ValueError):
            if not self._unreadable:
                LOG.error("API_KEYS_FILE cannot be read as name:digest lines; the keys stay as they were")
            self._unreadable = True
            return
        if self._seen is not None:
            LOG.info("API keys read again: %s", ", ".join(sorted({name for _, name in named})))
        self._seen, self._unreadable, self._named = seen, False, named


def _by_digest(keys: frozenset[str]) -> list[tuple[bytes, str]]:
    split = (key.split(":") for key in sorted(keys))
    return [(bytes.fromhex(digest), name) for name, digest in split]
