"""What is wrong with one member, and how marshmallow's nested messages become JSON Pointers."""

import json
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from service.results.refusal import FieldError


class Fault(str):
    """A message that also carries its code and what would be accepted."""

    code: str
    allowed: tuple[str, ...]

    def __new__(cls, detail: str, code: str, allowed: tuple[str, ...] = ()) -> "Fault":
        """detail: one sentence a person can act on; code: `document.kebab-name`."""
        made = super().__new__(cls, detail)
        made.code = code
        made.allowed = allowed
        return made


NO_MEMBER = "The document has no such member here."
UNKNOWN = Fault("The document has no such member; check the spelling, or leave it out.", "document.unknown-member")
MOST_LETTERS = 64
NEAR = 0.7
"""Least likeness (twice the letters in common over all letters) of what may have been meant; project choice."""


def unknown_member(name: str, known: Iterable[str], elsewhere: str | None = None) -> Fault:
    """The refusal of a member that is not known: where it belongs, or the one that is spelt most like it."""
    if elsewhere is not None:
        return Fault(f"{NO_MEMBER} It belongs in {elsewhere}.", UNKNOWN.code, (elsewhere,))
    near = nearest(name, known) if len(name) <= MOST_LETTERS else []
    return Fault(f"{UNKNOWN} Was {near[0]} meant?", UNKNOWN.code, tuple(near)) if near else UNKNOWN


def nearest(given: str, known: Iterable[str]) -> list[str]:
    """The word that a slip of the pen makes of another one; none where a number would be changed.

    Two numbers that look alike are two numbers: nobody who writes 240 means 460.
    """
    same = [word for word in known if _digits(word) == _digits(given)]
    return get_close_matches(given, same, 1, NEAR)


def _digits(word: str) -> str:
    return "".join(letter for letter in word if letter.isdecimal())


def which_word(given: Any, known: Iterable[str]) -> str:
    """What to say of a word that is not in its list: the one it may have been meant for, or which word it is."""
    if type(given) is not str or len(given) > MOST_LETTERS:
        return ""
    near = nearest(given.strip().lower().replace(" ", "_").replace("/", "_"), known)
    return f" Was {near[0]} meant by {json.dumps(given)}?" if near else f" {json.dumps(given)} is none of them."


NOT_AN_OBJECT = Fault("An object with named members belongs here.", "document.not-an-object", ("object",))


def field_errors(messages: Any, pointer: str = "") -> Iterator[FieldError]:
    """Flatten marshmallow's messages, in document order, each with the pointer of its member."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from field_errors(inner, pointer if key == "_schema" else f"{pointer}/{escape(str(key))}")
        return
    for message in messages:
        yield FieldError(pointer, message.code, str(message), message.allowed)


def escape(token: str) -> str:
    """One reference token of a JSON Pointer (RFC 6901, section 3)."""
    return token.replace("~", "~0").replace("/", "~1")
