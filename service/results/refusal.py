"""A refusal of what the caller sent, pointing at the reading that is wrong, in no language yet."""

from __future__ import annotations

from typing import TypeAlias

from service.results.record import Record


class Phrase(Record):
    """What is said to a caller: the code of a text of the locales (`refusals`), and what stands in its braces.

    `service.words.refusing` says it in a language. Values that are texts (numbers with their unit, codes, names of
    members, what the caller wrote) stay as they are in every language.
    """

    code: str
    values: tuple[tuple[str, Said], ...] = ()


class Meaning(Record):
    """What a member is, in words of the trade: the record and member that the locales know it by.

    english: what its declaration says, for a language that has no text of it.
    """

    of: str
    name: str
    english: str


Said: TypeAlias = "str | Phrase | Meaning | tuple[Said, ...]"
"""One thing to say, or several sentences in their order."""


def phrase(code: str, **values: Said) -> Phrase:
    """A phrase with its values by name."""
    return Phrase(code, tuple(values.items()))


class FieldError(Record):
    """One thing that is wrong with a request.

    Parameters
    ----------
    pointer: JSON Pointer (RFC 6901) to the member in the caller's body; "" is the whole document.
    code: stable code, `area.kebab-name`.
    detail: what a person can act on; never the text of an exception.
    allowed: what would be accepted: codes, or a phrase such as "0 to 100"; empty when it says nothing.
    parameter: name of the query parameter, header or path part, where the mistake is not in the body.
    """

    pointer: str
    code: str
    detail: Said
    allowed: tuple[str | Phrase, ...] = ()
    parameter: str | None = None


class Refusal(Exception):
    """Raised when a document is JSON but not an acceptable visit; answered as 422 with `errors`."""

    def __init__(self, errors: tuple[FieldError, ...]) -> None:
        super().__init__(", ".join(f"{error.code} at {error.pointer or 'the document'}" for error in errors))
        self.errors = errors
