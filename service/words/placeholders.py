"""Names in braces that texts have, checked before the server listens: the code fills each, in every language."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from difflib import get_close_matches
from functools import cache, partial
from importlib import resources
from importlib.resources.abc import Traversable
from string import Formatter
from typing import Any

from service.words.locale import LANGUAGES, folders, place, texts

JUDGED_BY = ("measured", "low", "high")
OFFLINE = frozenset({"workshop", "__pycache__"})


def wrong_placeholders() -> Iterator[str]:
    """One line for each text with a name that nobody fills, with broken braces, or unlike its English text.

    A name counts as filled where the serving code names a value so; whether it is this text's value, tests hold.
    """
    code = "".join(_code(resources.files("service")))
    is_filled = cache(partial(_is_filled, code, frozenset(code.split('"'))))
    for folder in folders():
        english = dict(_flat(texts(LANGUAGES[0], folder), ()))
        for language in LANGUAGES:
            for path, text in _flat(texts(language, folder), ()):
                for said in _wrong(text, english.get(path, text), is_filled):
                    yield f"{place(language, folder, path[0])}: {' '.join(path)} ({language}): {said}"


def _code(folder: Traversable) -> Iterator[str]:
    """The modules that serve."""
    for entry in folder.iterdir():
        if entry.is_dir() and entry.name not in OFFLINE:
            yield from _code(entry)
        elif entry.name.endswith(".py"):
            yield entry.read_text("utf-8")


def _is_filled(code: str, quoted: Collection[str], name: str) -> bool:
    """Whether code names a value so: by the key of a mapping, or by a keyword.

    quoted: what stands between two quotation marks in the code; nearly every name is there, and found at once.
    """
    return name in quoted or f"{name}=" in code


def _wrong(text: str, english: str, is_filled: Callable[[str], bool]) -> Iterator[str]:
    try:
        names, expected = _names(text), _names(english)
    except ValueError as error:
        yield f"{error}: {text!r}"
        return
    for name in sorted(names):
        if not is_filled(name):
            near = get_close_matches(name, expected or JUDGED_BY, 1)
            yield f"nothing fills {{{name}}}" + (f"; was {{{near[0]}}} meant?" if near else "")
    if names != expected:
        yield f"its names {sorted(names)} are not those of the English text, {sorted(expected)}"


def _names(text: str) -> set[str]:
    """Names in braces. Raises: ValueError for broken braces, or a name with a format."""
    if "{" not in text and "}" not in text:
        return set()
    found = [(name, spec, change) for _, name, spec, change in Formatter().parse(text) if name is not None]
    if any(spec or change or not name.isidentifier() for name, spec, change in found):
        raise ValueError("a name in braces stands for itself alone")
    return {name for name, _, _ in found}


def _flat(entry: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], str]]:
    """(path, text) of every text below an entry."""
    if isinstance(entry, dict):
        for key, inner in entry.items():
            yield from _flat(inner, (*path, str(key)))
    else:
        yield path, str(entry)
