"""What is running: service, commit, edition of the knowledge and origin of the property tables."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib import metadata, resources
from importlib.resources.abc import Traversable

from service.knowledge.refrigerant_rows import refrigerant_data


@cache
def provenance() -> dict[str, str]:
    """The versions that every answer carries, so that it can be given again."""
    return {
        "service": metadata.version("air-conditioner-diagnosis"),
        "knowledge": _edition("data"),
        "properties": f"{refrigerant_data().property_library}, tables {_edition('tables')}",
    }


def _edition(folder: str) -> str:
    """Twelve hexadecimal digits over the files of a folder: the same only if the files are the same."""
    digest = hashlib.sha256()
    for name, content in sorted(_files(resources.files("service.knowledge") / folder, "")):
        digest.update(name.encode() + b"\0" + hashlib.sha256(content).digest())
    return digest.hexdigest()[:12]


def _files(folder: Traversable, prefix: str) -> list[tuple[str, bytes]]:
    found: list[tuple[str, bytes]] = []
    for entry in folder.iterdir():
        if entry.is_dir():
            found += _files(entry, f"{prefix}{entry.name}/")
        else:
            found.append((prefix + entry.name, entry.read_bytes()))
    return found
