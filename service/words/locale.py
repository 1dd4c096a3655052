"""Texts of one language, from the locale files; every language has every code (a test holds it)."""

from functools import cache
from importlib import resources
from typing import Any

import yaml

LANGUAGES = ("en", "es")
DEFAULT = LANGUAGES[0]


@cache
def texts(language: str, folder: str) -> dict[str, Any]:
    """Texts of a folder (findings, steps, causes ...) by code.

    Raises: ValueError when a code is given twice.
    """
    found: dict[str, Any] = {}
    root = resources.files("service.words") / "locales" / language / folder
    if not root.is_dir():
        return found
    for file in sorted(root.iterdir(), key=lambda entry: entry.name):
        if not file.name.endswith(".yaml"):
            continue
        content = yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader) or {}
        if twice := set(content) & set(found):
            raise ValueError(f"{language}/{folder}/{file.name}: given twice: {sorted(twice)}")
        found.update(content)
    return found


@cache
def folders() -> tuple[str, ...]:
    """Names of the folders of texts, which are the same in every language."""
    root = resources.files("service.words") / "locales" / LANGUAGES[0]
    return tuple(sorted(entry.name for entry in root.iterdir() if entry.is_dir()))


@cache
def text(language: str, folder: str, code: str) -> Any:
    """The text of a code; English where the language has none yet."""
    return texts(language, folder).get(code) or texts("en", folder)[code]
