"""Texts of one language: those of the rows, and the locale files of what has no row.

Every language has every code (a test holds it).
"""

from functools import cache
from importlib import resources
from typing import Any

from service.knowledge.languages import ENGLISH, LANGUAGES
from service.knowledge.row_files import file_of
from service.knowledge.row_texts import row_texts, telling_kinds
from service.knowledge.yaml_files import read_yaml

__all__ = ("DEFAULT", "LANGUAGES", "folders", "meanings", "place", "text", "texts")
DEFAULT = ENGLISH
LOCALES = "service/words/locales"
ROWS_OF = {"kind": "kinds"}
"""Members whose words are codes of rows, which say what they mean."""


@cache
def texts(language: str, folder: str) -> dict[str, Any]:
    """Texts of a folder of the locales or of a kind of rows (findings, steps, causes ...) by code.

    Raises: ValueError when a code is given twice.
    """
    found: dict[str, Any] = {}
    for name, content in (*_locale_files(language, folder), ("rows", row_texts(language, folder))):
        if twice := set(content) & set(found):
            raise ValueError(f"{language}/{folder}/{name}: given twice: {sorted(twice)}")
        found.update(content)
    return found


@cache
def meanings(language: str, member: str) -> dict[str | int, str]:
    """What the words of a closed list mean, by the member that takes them; rows say what their codes mean."""
    of_rows = texts(language, ROWS_OF[member]) if member in ROWS_OF else {}
    found: dict[str | int, str] = texts(language, "list_words").get(member, {})
    return found | {word: said["plain"] for word, said in of_rows.items()}


def _locale_files(language: str, folder: str) -> list[tuple[str, dict[str, Any]]]:
    root = resources.files("service.words") / "locales" / language / folder
    if not root.is_dir():
        return []
    files = sorted((entry for entry in root.iterdir() if entry.name.endswith(".yaml")), key=lambda file: file.name)
    where = f"{LOCALES}/{language}/{folder}"
    return [(file.name, read_yaml(file.read_bytes(), f"{where}/{file.name}") or {}) for file in files]


@cache
def folders() -> tuple[str, ...]:
    """Folders of texts, which are the same in every language, and kinds of rows that say something."""
    root = resources.files("service.words") / "locales" / ENGLISH
    return tuple(sorted({entry.name for entry in root.iterdir() if entry.is_dir()}.union(telling_kinds())))


def place(language: str, folder: str, code: str) -> str:
    """Where a text stands, for whoever has to mend it: the file of its row, or the folder of the locales."""
    told_by_row = any(code in row_texts(each, folder) for each in LANGUAGES)
    return file_of(code) if told_by_row else f"{LOCALES}/{language}/{folder}"


@cache
def text(language: str, folder: str, code: str, of_unit: tuple[str, ...] = ()) -> Any:
    """The text of a code; English where the language has none yet.

    of_unit: folders of the locales with what is said otherwise of this unit (one that heats, has no ducts ...), by
    folder, code and member; where two say it, the later one.
    """
    said = texts(language, folder).get(code) or texts(ENGLISH, folder)[code]
    for otherwise in of_unit:
        said = _otherwise(texts(language, otherwise), f"{folder}/{code}", said)
    return said


def _otherwise(others: dict[str, str], where: str, said: Any) -> Any:
    if isinstance(said, dict):
        return {name: _otherwise(others, f"{where}/{name}", inner) for name, inner in said.items()}
    return others.get(where, said)
