"""A refusal of what the caller sent, pointing at the reading that is wrong."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FieldError:
    """One thing that is wrong with a request.

    Parameters
    ----------
    pointer: JSON Pointer (RFC 6901) to the member in the caller's body; "" is the whole document.
    code: stable code, `area.kebab-name`.
    detail: one sentence a person can act on; never the text of an exception.
    allowed: what would be accepted (codes, or a phrase such as "0 to 100"); empty when it says nothing.
    parameter: name of the query parameter, header or path part, where the mistake is not in the body.
    """

    pointer: str
    code: str
    detail: str
    allowed: tuple[str, ...] = ()
    parameter: str | None = None


class Refusal(Exception):
    """Raised when a document is JSON but not an acceptable visit; answered as 422 with `errors`."""

    def __init__(self, errors: tuple[FieldError, ...]) -> None:
        super().__init__(", ".join(f"{error.code} at {error.pointer or 'the document'}" for error in errors))
        self.errors = errors
