"""What rows say, in every language, beside what they mean: the words room reads it here.

A text is written by language (`{en: ..., es: ...}`), as a member of its row or below one (`detail: {fail: ...}`);
a row that is nothing but a text has the languages as its members.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from service.knowledge.languages import ENGLISH, LANGUAGES
from service.knowledge.row_files import kinds, rows_as_written, wrong


def without_texts(row: dict[str, Any]) -> dict[str, Any]:
    """A row as the catalogues read it."""
    return {name: value for name, value in row.items() if name not in LANGUAGES and not _is_told(value)}


@cache
def row_texts(language: str, kind: str) -> dict[str, Any]:
    """What the rows of a kind say in a language, by code: a text, or texts by member, state ...

    Raises: KnowledgeError for a code that says something twice, or a language that there is not.
    """
    found: dict[str, Any] = {}
    for row in rows_as_written(kind):
        members = {name: value for name, value in row.items() if _is_told(value)}
        said = _in_language(row if ENGLISH in row else members, language, row)
        if not said:
            continue
        if row["code"] in found:
            raise wrong(row["code"], f"given twice in {kind}")
        found[row["code"]] = said
    return found


@cache
def telling_kinds() -> tuple[str, ...]:
    """Kinds whose rows say something."""
    return tuple(kind for kind in kinds() if row_texts(ENGLISH, kind))


def _is_told(value: Any) -> bool:
    """Whether a member is a text, or holds texts."""
    return isinstance(value, dict) and (ENGLISH in value or any(_is_told(inner) for inner in value.values()))


def _in_language(value: dict[str, Any], language: str, row: dict[str, Any]) -> Any:
    """A text in a language, or what holds texts with those that are there in it."""
    if ENGLISH in value:
        if value is not row and (strange := set(value) - set(LANGUAGES)):
            raise wrong(row["code"], f"{sorted(strange)} beside {LANGUAGES}")
        return value.get(language)
    told = {name: _in_language(inner, language, row) for name, inner in value.items()}
    return {name: said for name, said in told.items() if said}
