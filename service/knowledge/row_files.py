"""The files that rows stand in: a topic with everything of it side by side, or a folder of one kind.

`topics/<topic>.yaml` holds limits, findings and texts of one subject, each in its section; `data/<kind>/*.yaml`
holds the rows of one kind (causes, steps ...). A kind may have rows in both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Any

from service.knowledge.yaml_files import KnowledgeError, read_yaml

PLACE = "service/knowledge"
SECTIONS = ("limits", "findings", "missing", "assumptions", "claims")
"""What a topic may hold, each a list of rows."""


@cache
def rows_as_written(kind: str) -> tuple[dict[str, Any], ...]:
    """Rows of a kind with their texts, in file and row order: those of its folder, then those of the topics.

    Raises: KnowledgeError when a file or a section is not a list of mappings.
    """
    found = [(name, content[kind]) for name, content in _topics().items() if kind in content]
    return tuple(row for name, content in (*_of_folder(kind), *found) for row in checked(content, name))


@cache
def kinds() -> tuple[str, ...]:
    """Every kind of row: the folders of `data` and the sections of the topics."""
    folders = {entry.name for entry in _data().iterdir() if entry.is_dir()}
    return tuple(sorted(folders.union(SECTIONS)))


def file_of(code: str) -> str:
    """Where the row of a code stands, for whoever has to mend it; the room where none is found."""
    row = re.compile(rf"\bcode: {re.escape(code)}\s*[,\n]")
    folders = sorted((entry for entry in _data().iterdir() if entry.is_dir()), key=lambda entry: entry.name)
    for folder, named in ((_topics_folder(), "topics"), *((each, f"data/{each.name}") for each in folders)):
        for file in _yaml_files(folder):
            if row.search(file.read_text("utf-8")):
                return f"{PLACE}/{named}/{file.name}"
    return PLACE


def wrong(code: str, said: str) -> KnowledgeError:
    """What is wrong with a row, with its file, for whoever has to mend it."""
    return KnowledgeError(f"{file_of(code)}: {code}: {said}")


def checked(content: Any, name: str) -> Iterator[dict[str, Any]]:
    """Rows of a file. Raises: KnowledgeError when it is not a list of mappings."""
    if not isinstance(content, list) or not all(isinstance(row, dict) for row in content):
        raise KnowledgeError(f"{PLACE}/{name}: not a list of rows")
    yield from content


def _of_folder(kind: str) -> list[tuple[str, Any]]:
    folder = _data() / kind
    if not folder.is_dir():
        return []
    return [(f"data/{kind}/{file.name}", _content(file, f"data/{kind}")) for file in _yaml_files(folder)]


@cache
def _topics() -> dict[str, dict[str, Any]]:
    """Every topic's sections by its file's name. Raises: KnowledgeError for a section that there is not."""
    found = {f"topics/{file.name}": _content(file, "topics") for file in _yaml_files(_topics_folder())}
    for name, content in found.items():
        if not isinstance(content, dict) or set(content) - set(SECTIONS):
            raise KnowledgeError(f"{PLACE}/{name}: a topic has the sections {', '.join(SECTIONS)} and no other")
    return found


def _content(file: Traversable, name: str) -> Any:
    return read_yaml(file.read_bytes(), f"{PLACE}/{name}/{file.name}")


def _data() -> Traversable:
    return resources.files("service.knowledge") / "data"


def _topics_folder() -> Traversable:
    return resources.files("service.knowledge") / "topics"


def _yaml_files(folder: Traversable) -> list[Traversable]:
    files = (entry for entry in folder.iterdir() if entry.name.endswith(".yaml"))
    return sorted(files, key=lambda entry: entry.name)
