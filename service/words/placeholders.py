"""Names in braces that texts may have: those that the code fills. Checked before the server listens.

A locale folder that is not listed has none. Names are bare: no format, no attribute.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from string import Formatter
from typing import Any

from service.words.locale import LANGUAGES, folders, texts

JUDGED_BY = frozenset({"measured", "low", "high"})
"""What a finding was judged by; every finding with a number has them."""


def _names_of(said: str) -> frozenset[str]:
    return frozenset(said.split())


FILLED = {
    "arguments": _names_of("difference expected finding measured reading"),
    "assumptions": _names_of("air hold_time target temperature"),
    "findings": JUDGED_BY
    | _names_of(
        "area before by_bulbs cause class contents delivered duration edition end expected expires gas "
        "given height held hold hold_time least likely line liquid longest loss months nameplate new oil "
        "others owed pair percent place plateau pole pressure rate read reference refrigerant room rule "
        "rule_said seen share shortest size source start stated still stop subcooling suction superheat "
        "tare target terminal tonnes usual vacuum wait water"
    ),
    "ratings": _names_of("amps phases poles refrigerant sizes volts"),
    "report": _names_of(
        "cause high low number percent pressure readings refrigerant temperature unit value verdict"
    ),
    "sentences": _names_of(
        "cause check code finding hold part percent refrigerant rule rule_said step symptom years"
    ),
}


def wrong_placeholders() -> Iterator[str]:
    """One line for each text with a name that nobody fills, with broken braces, or unlike its English text."""
    for folder in folders():
        english = dict(_flat(texts(LANGUAGES[0], folder), ()))
        for language in LANGUAGES:
            for path, text in _flat(texts(language, folder), ()):
                where = f"service/words/locales/{language}/{folder}: {' '.join(path)}"
                yield from (f"{where}: {said}" for said in _wrong(text, english.get(path, text), folder))


def _wrong(text: str, english: str, folder: str) -> Iterator[str]:
    try:
        names, expected = _names(text), _names(english)
    except ValueError as error:
        yield f"{error}: {text!r}"
        return
    known = FILLED.get(folder, frozenset())
    for name in sorted(names - known):
        near = get_close_matches(name, known, 1)
        yield f"nothing fills {{{name}}}" + (f"; was {{{near[0]}}} meant?" if near else "")
    if names != expected:
        yield f"its names {sorted(names)} are not those of the English text, {sorted(expected)}"


def _names(text: str) -> set[str]:
    """Names in braces. Raises: ValueError for broken braces, or a name with a format."""
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
