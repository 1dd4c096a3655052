"""What a route says of itself: the contract is written from it, and from the marks that the gate asks.

Summary and description are the docstring of the view: its first line, and what follows as one paragraph.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from service.results.record import Record

View = TypeVar("View", bound=Callable[..., Any])
MARK = "described"


class Example(Record):
    """A request whose real answer goes into the contract.

    name: of the example; said: what it shows; body: a file of samples/; path and query: parameters of a GET;
    language: asked for by Accept-Language. A test holds each one as a golden case.
    """

    name: str
    said: str
    body: str = ""
    path: tuple[tuple[str, str], ...] = ()
    query: tuple[tuple[str, str], ...] = ()
    language: str = "en"


class Parameter(Record):
    """A path or query parameter: name, what it is, its JSON Schema, and an example of it."""

    name: str
    said: str
    schema: tuple[tuple[str, Any], ...]
    example: Any

    @property
    def allowed(self) -> tuple[str, ...]:
        """The words of a choice, the default first."""
        return tuple(dict(self.schema).get("enum", ()))


def choice(name: str, said: str, *allowed: str) -> Parameter:
    """A query parameter with a closed list of words, the default first."""
    schema = (("type", "string"), ("enum", list(allowed)), ("default", allowed[0]))
    return Parameter(name, said, schema, allowed[0])


class Description(Record):
    """What a route says of itself.

    operation_id: its name in clients; tag: the chapter of the contract; request: the declared record of the
    body, None for a GET; other_request_media: in which a body may come that is no single JSON document, body_text:
    what it is then, other_examples: of it; answer: its shape, None for a text; shows: media types that the
    contract tells of where they are not those that the view produces; path: its path parameters; also: problems by
    status, beside those of every such route; spoken: the answer depends on Accept-Language; leads: whom it leads
    elsewhere (302).
    """

    operation_id: str
    tag: str
    request: type | None = None
    answer: type | None = None
    examples: tuple[Example, ...] = ()
    shows: tuple[str, ...] = ()
    path: tuple[Parameter, ...] = ()
    also: tuple[int, ...] = ()
    spoken: bool = True
    leads: str = ""
    body_text: str = ""
    other_request_media: str = ""
    other_examples: tuple[Example, ...] = ()


def described(operation_id: str, tag: str, **details: Any) -> Callable[[View], View]:
    """Describe a view for the contract; see `Description`. A view without it is in no contract."""

    def mark(view: View) -> View:
        setattr(view, MARK, Description(operation_id, tag, **details))
        return view

    return mark
