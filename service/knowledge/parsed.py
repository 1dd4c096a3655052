"""What files of rows and texts hold, kept parsed beside this module, as Python keeps its modules compiled.

Parsing them is a tenth of a start (133 files of .87 MB: 104 ms; from here 6). An entry is found by the digest of
a file's bytes and of the parser's, so what was changed is parsed again whatever stands here; where nothing can be
kept (a package that nobody may write to), each start parses. The image keeps them when it is built.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
# What the documentation of pickle names for content that was cut or changed.
BROKEN = (pickle.UnpicklingError, AttributeError, EOFError, ImportError, LookupError, ValueError, TypeError)
_asked: dict[bytes, bytes] = {}
"""What was asked for since the last `keep`, pickled, by digest."""
_missing: set[bytes] = set()


def parsed(content: bytes, parse: Callable[[bytes], Any]) -> Any:
    """What `parse` makes of a file: each time a new object. Raises what `parse` raises."""
    digest = hashlib.sha256(_parser() + content).digest()
    found = _kept().get(digest)
    if found is None:
        made = parse(content)
        _asked[digest] = pickle.dumps(made)
        _missing.add(digest)
        return made
    _asked[digest] = found
    return pickle.loads(found)


def keep() -> None:
    """Keep what was asked for until now, if any of it had to be parsed and the package may be written to."""
    if _missing and not sys.dont_write_bytecode:
        file = kept_in()
        begun = file.with_suffix(f".{os.getpid()}")
        with contextlib.suppress(OSError):
            file.parent.mkdir(exist_ok=True)
            begun.write_bytes(pickle.dumps(_asked))
            begun.replace(file)
    _asked.clear()
    _missing.clear()


def kept_in() -> Path:
    """The file; one for each version of Python."""
    return FOLDER / "__pycache__" / f"rows.{sys.implementation.cache_tag}.pickle"


@cache
def _kept() -> dict[bytes, bytes]:
    """Pickled content by digest; nothing where there is no file, or one that cannot be read."""
    try:
        found: dict[bytes, bytes] = pickle.loads(kept_in().read_bytes())
    except (OSError, *BROKEN):
        return {}
    return found


@cache
def _parser() -> bytes:
    return hashlib.sha256(Path(__file__).with_name("yaml_files.py").read_bytes()).digest()
