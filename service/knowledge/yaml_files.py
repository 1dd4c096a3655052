"""Reading a file of rows or texts, straight from the events of the parser; a member written twice is refused.

The parser's own constructor takes the second of two members of one name in silence, and 2.4 times as long
(83 files of 0.7 MB: 170 and 70 ms).
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import yaml

from service.knowledge.parsed import parsed


class KnowledgeError(Exception):
    """A data file breaks a rule of the house; raised at start-up, never during a request."""


def read_yaml(content: bytes, name: str) -> Any:
    """What a file holds: plain lists, mappings, texts, numbers, days; None for an empty one.

    name: as an error tells it. Raises: KnowledgeError for what is no YAML or has a member twice.
    """
    try:
        return parsed(content, _read)
    except yaml.YAMLError as broken:
        raise KnowledgeError(f"{name}: no YAML: {' '.join(str(broken).split())}") from None
    except ValueError as broken:
        raise KnowledgeError(f"{name}: {broken}") from None


def _read(content: bytes) -> Any:
    return _Document(yaml.parse(content, Loader=yaml.CSafeLoader)).read()


class _Document:
    """What the events of one file build; an alias stands for the very thing that its anchor names."""

    def __init__(self, events: Iterator[Any]) -> None:
        self.following = events.__next__
        self.named: dict[str, Any] = {}

    def read(self) -> Any:
        """The document; None where there is none."""
        self.following()  # the stream begins
        return None if isinstance(self.following(), yaml.StreamEndEvent) else self.value(self.following())

    def value(self, event: Any) -> Any:
        """A scalar, a list or a mapping that begins with an event. Raises: ValueError for a member given twice."""
        kind = event.__class__
        if kind is yaml.AliasEvent:
            if event.anchor not in self.named:
                raise ValueError(f"nothing is named {event.anchor!r}{event.start_mark}")
            return self.named[event.anchor]
        if kind is yaml.ScalarEvent:
            made = _plain(event.value) if event.implicit[0] else event.value
        else:
            made = list(self._items()) if kind is yaml.SequenceStartEvent else self._mapping()
        if event.anchor is not None:
            self.named[event.anchor] = made
        return made

    def _items(self) -> Iterator[Any]:
        while (event := self.following()).__class__ is not yaml.SequenceEndEvent:
            yield self.value(event)

    def _mapping(self) -> dict[Any, Any]:
        made: dict[Any, Any] = {}
        while (event := self.following()).__class__ is not yaml.MappingEndEvent:
            name = self.value(event)
            if name in made:
                raise ValueError(f"{name!r} is given twice{event.start_mark}")
            made[name] = self.value(self.following())
        return made


@lru_cache(maxsize=8192)
def _plain(text: str) -> Any:
    """A scalar without quotes: what may be more than a text, by its first letter, is left to the library."""
    if text and text[0] not in yaml.CSafeLoader.yaml_implicit_resolvers:
        return text
    return yaml.load(text or "null", Loader=yaml.CSafeLoader)
