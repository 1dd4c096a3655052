"""The glossary: the forbidden words of a text, and the texts that a native speaker should confirm.

`python -m tests.words.glossary` lists the Spanish rows to be confirmed.
"""

import re
from collections.abc import Iterator
from functools import cache
from importlib import resources
from typing import Any

import yaml

from service.words.locale import folders, place, texts

WORDS = resources.files("service.words")
FORBIDDEN = {"en": ("never", "except"), "es": ("nunca", "excepto")}


@cache
def glossary() -> tuple[dict[str, Any], ...]:
    """The rows of the glossary."""
    return tuple(yaml.safe_load((WORDS / "glossary.yaml").read_text(encoding="utf-8")))


@cache
def patterns(language: str) -> tuple[tuple[str, tuple[re.Pattern[str], ...], tuple[re.Pattern[str], ...]], ...]:
    """(term, what is forbidden, phrases in which it means something else) of a language."""
    never, excepted = FORBIDDEN[language]
    return tuple((row["term"], compiled(row, never), compiled(row, excepted)) for row in glossary())


def compiled(row: dict[str, Any], member: str) -> tuple[re.Pattern[str], ...]:
    """The regular expressions of a member of a row, without regard to case."""
    return tuple(re.compile(pattern, re.IGNORECASE) for pattern in row.get(member, ()))


def forbidden(language: str, text: str) -> Iterator[tuple[str, str]]:
    """(term, forbidden words) in a text."""
    for term, never, excepted in patterns(language):
        allowed = [found.span() for pattern in excepted for found in pattern.finditer(text)]
        for found in (found for pattern in never for found in pattern.finditer(text)):
            if not any(start < found.end() and found.start() < end for start, end in allowed):
                yield term, found.group(0)


def rows(language: str) -> Iterator[tuple[str, str]]:
    """(folder, code and path within its entry; text) of every text of a language."""
    for folder in folders():
        for path, text in flat(texts(language, folder)):
            yield f"{folder}/{' '.join(path)}", text


def where(language: str, name: str) -> str:
    """The file of a text that `rows` named, and its name."""
    folder, _, path = name.partition("/")
    return f"{place(language, folder, path.split(' ')[0])}: {path} ({language})"


def flat(entry: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    """(path, text) of every text below an entry."""
    if isinstance(entry, dict):
        for key, value in entry.items():
            yield from flat(value, (*path, str(key)))
    else:
        yield path, entry


def to_confirm() -> Iterator[tuple[str, str, str]]:
    """(row, its Spanish text, why) of what a Spanish-speaking technician of the United States should confirm."""
    marked = [(row["confirm"], compiled(row, "usado")) for row in glossary() if "confirm" in row]
    for name, text in rows("es"):
        for why, used in marked:
            if any(pattern.search(text) for pattern in used):
                yield name, text, why


def sentences(text: str) -> list[str]:
    """The sentences of a text; a number with its point does not end one."""
    return [part for part in re.split(r"(?<=[a-zA-ZΩ)}%áéíóú]\.)\s+|(?<=[!?])\s+", text) if part]


if __name__ == "__main__":
    for row_name, spanish, reason in to_confirm():
        print(f"{row_name}: {spanish}  [{reason}]")
