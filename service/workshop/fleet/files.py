"""Files by path or address, on any storage that fsspec knows; a file is written whole or not at all."""

from __future__ import annotations

import glob
from typing import Any

import fsspec
from fsspec.core import url_to_fs

NDJSON, PARQUET = (".ndjson", ".jsonl"), (".parquet",)
HIDDEN = ("_", ".")
"""Names that begin so are no data, as the readers of Parquet folders have it."""


class UnusableFile(Exception):
    """A file or folder that cannot be used; the text says which and why."""


def input_files(address: str) -> list[str]:
    """The files behind an address, in order of name: a file, a folder (searched to its bottom) or a pattern.

    Raises: UnusableFile where nothing is there, or a file that was named is neither NDJSON nor Parquet.
    """
    system, path = url_to_fs(address)
    if glob.has_magic(path):
        found = system.glob(path)
    elif system.isdir(path):
        found = [name for name in system.find(path) if _is_data(name)]
    else:
        found = [path] if system.exists(path) else []
    if not found:
        raise UnusableFile(f"{address}: no file is there")
    for name in found:
        if kind_of(name) is None:
            known = ", ".join(NDJSON + PARQUET)
            raise UnusableFile(f"{name}: neither NDJSON nor Parquet by its name; known are {known}")
    return sorted(str(system.unstrip_protocol(name)) for name in found)


def kind_of(name: str) -> str | None:
    """`ndjson` or `parquet`, by the end of the name."""
    lower = name.lower()
    if lower.endswith(NDJSON):
        return "ndjson"
    return "parquet" if lower.endswith(PARQUET) else None


def _is_data(name: str) -> bool:
    return kind_of(name) is not None and not name.rpartition("/")[2].startswith(HIDDEN)


def open_file(address: str) -> Any:
    """The file, opened for reading bytes; seekable."""
    return fsspec.open(address, "rb").open()


def size_of(address: str) -> int:
    """Bytes in a file."""
    system, path = url_to_fs(address)
    return int(system.size(path))


def read_text(address: str) -> str | None:
    """The text of a file in UTF-8, None where there is none."""
    system, path = url_to_fs(address)
    return system.cat_file(path).decode() if system.exists(path) else None


def exists(address: str) -> bool:
    """Whether something is there."""
    system, path = url_to_fs(address)
    return bool(system.exists(path))


def write_whole(address: str, content: bytes) -> None:
    """Write under a hidden name, then rename, so that nobody ever finds half a file under the name itself."""
    system, path = url_to_fs(address)
    folder, _, name = path.rpartition("/")
    system.makedirs(folder, exist_ok=True)
    beside = f"{folder}/_{name}.writing"
    system.pipe_file(beside, content)
    system.mv(beside, path)


def joined(folder: str, name: str) -> str:
    """A file in a folder, both as addresses."""
    return f"{folder.rstrip('/')}/{name}"


def whole_address(address: str) -> str:
    """The address with its protocol and, on this machine, as an absolute path, so that every worker finds it."""
    system, path = url_to_fs(address)
    return str(system.unstrip_protocol(path))
