"""What is wrong with one member, and how marshmallow's nested messages become JSON Pointers."""

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


UNKNOWN = Fault("The document has no such member; check the spelling, or leave it out.", "document.unknown-member")
MOST_LETTERS = 64


def unknown_member(name: str, known: Iterable[str]) -> Fault:
    """The refusal of a member that is not known, with the one that is spelt most like it."""
    near = get_close_matches(name, known, 1) if len(name) <= MOST_LETTERS else []
    return Fault(f"{UNKNOWN} Was {near[0]} meant?", UNKNOWN.code, tuple(near)) if near else UNKNOWN


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
