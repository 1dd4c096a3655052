"""Reading data files: every row is checked when it is loaded, so a bad file stops the service at start."""

import re
from collections.abc import Iterator
from importlib import resources
from typing import Any

import yaml

BASES = frozenset(
    {"published", "restated", "common practice", "from memory", "circuit logic", "physics", "project choice"}
)
"""restated: read in two texts that do not quote one another."""
DECIDING = frozenset({"published", "restated", "circuit logic", "physics"})
"""Alone these may pass a matter of safety or condemn a compressor; a hold may rest on anything."""


class KnowledgeError(Exception):
    """A data file breaks a rule of the house; raised at start-up, never during a request."""


def rows(folder: str) -> Iterator[dict[str, Any]]:
    """Rows of all YAML files in `service/knowledge/data/<folder>`, in file and row order.

    Raises: KnowledgeError when a file is not a list of mappings.
    """
    root = resources.files("service.knowledge") / "data" / folder
    for file in sorted(root.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".yaml"):
            yield from _checked(yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader), f"{folder}/{file.name}")


def file_of(code: str) -> str:
    """Where the row of a code stands, for whoever has to mend it; the folder of all rows where none is found."""
    root = resources.files("service.knowledge") / "data"
    for folder in sorted((entry for entry in root.iterdir() if entry.is_dir()), key=lambda entry: entry.name):
        for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
            if file.name.endswith(".yaml") and re.search(
                rf"\bcode: {re.escape(code)}\s*[,\n]", file.read_text("utf-8")
            ):
                return f"service/knowledge/data/{folder.name}/{file.name}"
    return "service/knowledge/data"


def _checked(content: Any, name: str) -> Iterator[dict[str, Any]]:
    if not isinstance(content, list) or not all(isinstance(row, dict) for row in content):
        raise KnowledgeError(f"{name}: not a list of rows")
    yield from content


def by_code(folder: str, **keys: bool) -> dict[str, dict[str, Any]]:
    """Rows of a folder by their `code`; each keyword names a member and says whether it is required.

    Raises: KnowledgeError for an unknown or missing member, or a code given twice.
    """
    found: dict[str, dict[str, Any]] = {}
    for row in rows(folder):
        code = row.get("code")
        if not isinstance(code, str) or code in found:
            raise KnowledgeError(f"{folder}: code missing or given twice: {code!r}")
        _check_keys(row, folder, keys)
        found[code] = row
    return found


def _check_keys(row: dict[str, Any], folder: str, keys: dict[str, bool]) -> None:
    unknown = set(row) - set(keys) - {"code"}
    absent = {key for key, required in keys.items() if required and row.get(key) in (None, "")}
    if unknown or absent:
        raise KnowledgeError(f"{folder}: {row['code']}: unknown {sorted(unknown)}, absent {sorted(absent)}")


def check_basis(row: dict[str, Any], folder: str) -> None:
    """A row must say on what it rests: a source, or the words common practice.

    Raises: KnowledgeError when neither a known basis nor a source is given.
    """
    basis = row.get("basis")
    if basis not in BASES:
        raise KnowledgeError(f"{folder}: {row['code']}: basis {basis!r} is not one of {sorted(BASES)}")
    if basis in ("published", "restated", "from memory") and not row.get("source"):
        raise KnowledgeError(f"{folder}: {row['code']}: {basis} without a source")
