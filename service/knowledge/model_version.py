"""Which model is at work: one word over everything that a learnt share or temperature was learnt against."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable

FOLDERS = ("data", "cycle_tables")
DIGITS = 12


@cache
def model_version() -> str:
    """Twelve hexadecimal digits over rows and tables of causes and likelihoods; the same only if they are."""
    digest = hashlib.sha256()
    for folder in FOLDERS:
        for name, content in sorted(_files(resources.files("service.knowledge") / folder, f"{folder}/")):
            digest.update(name.encode() + b"\0" + hashlib.sha256(content).digest())
    return digest.hexdigest()[:DIGITS]


def _files(folder: Traversable, prefix: str) -> Iterator[tuple[str, bytes]]:
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _files(entry, f"{prefix}{entry.name}/")
        elif entry.name.endswith((".yaml", ".npz")):
            yield prefix + entry.name, entry.read_bytes()
