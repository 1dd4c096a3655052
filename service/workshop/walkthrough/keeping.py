"""A visit kept in a file between two sittings."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

Kept = dict[str, Any]


class NotKept(Exception):
    """The file cannot be read or written; the message says why."""


def keep(file: Path, kept: Kept) -> None:
    """Write document, what was asked, and the visit before the repair. Raises: NotKept."""
    beside = file.with_name(file.name + ".part")
    try:
        beside.write_text(json.dumps(kept, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
        beside.replace(file)
    except OSError as error:
        raise NotKept(f"{file} cannot be written: {error.strerror}.") from None


def kept_in(file: Path) -> Kept:
    """What was kept; empty where there is no file yet. Raises: NotKept."""
    if not file.exists():
        return {}
    try:
        found = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        raise NotKept(f"{file} is not a visit that was stopped. Name another file.") from None
    if not isinstance(found, dict) or not isinstance(found.get("document"), dict):
        raise NotKept(f"{file} is not a visit that was stopped. Name another file.")
    return found
