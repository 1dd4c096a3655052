"""What is wrong with one member, and how marshmallow's nested messages become JSON Pointers."""

import json
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from service.results.record import Record
from service.results.refusal import FieldError, Phrase, Said, phrase


class Fault(Record):
    """What is wrong with a member: what a person can act on, its code, and what would be accepted."""

    detail: Said
    code: str
    allowed: tuple[str | Phrase, ...] = ()


UNKNOWN = Fault(phrase("document.unknown"), "document.unknown-member")
MOST_LETTERS = 64
NEAR = 0.7
"""Least likeness (twice the letters in common over all letters) of what may have been meant; project choice."""


def unknown_member(name: str, known: Iterable[str], elsewhere: str | None = None) -> Fault:
    """The refusal of a member that is not known: where it belongs, or the one that is spelt most like it."""
    if elsewhere is not None:
        return Fault(phrase("document.elsewhere", place=elsewhere), UNKNOWN.code, (elsewhere,))
    near = nearest(name, known) if len(name) <= MOST_LETTERS else []
    if not near:
        return UNKNOWN
    return Fault((UNKNOWN.detail, phrase("document.member-meant", near=near[0])), UNKNOWN.code, tuple(near))


def nearest(given: str, known: Iterable[str]) -> list[str]:
    """The word that a slip of the pen makes of another one; none where a number would be changed.

    Two numbers that look alike are two numbers: nobody who writes 240 means 460.
    """
    same = [word for word in known if _digits(word) == _digits(given)]
    return get_close_matches(given, same, 1, NEAR)


def _digits(word: str) -> str:
    return "".join(letter for letter in word if letter.isdecimal())


def which_word(given: Any, known: Iterable[str | int]) -> Said:
    """What to say of a word that is not in its list: the one it may have been meant for, or which word it is.

    A number where the list has texts, and the other way round, looks like a word of it: its quotes are told of.
    """
    known = tuple(known)
    if type(given) is int and str(given) in known:
        return phrase("document.in-quotes")
    if type(given) is not str or len(given) > MOST_LETTERS:
        return ""
    if given not in known and given in map(str, known):
        return phrase("document.without-quotes")
    near = nearest(given.strip().lower().replace(" ", "_").replace("/", "_"), map(str, known))
    written = json.dumps(given)
    if near:
        return phrase("document.word-meant", near=near[0], given=written)
    return phrase("document.word-none", given=written)


NOT_AN_OBJECT = Fault(phrase("document.object"), "document.not-an-object", ("object",))


def field_errors(messages: Any, pointer: str = "") -> Iterator[FieldError]:
    """Flatten marshmallow's messages, in document order, each with the pointer of its member."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from field_errors(inner, pointer if key == "_schema" else f"{pointer}/{escape(str(key))}")
        return
    for message in messages:
        yield FieldError(pointer, message.code, message.detail, message.allowed)


def escape(token: str) -> str:
    """One reference token of a JSON Pointer (RFC 6901, section 3)."""
    return token.replace("~", "~0").replace("/", "~1")
