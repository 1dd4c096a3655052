"""What writes a declared record of an answer: one function a class, made as source from its members.

As `dataclasses` makes its methods, and for its reason: the function is the one that a person would write,
member by member. A loop over the members costs 1.6 times as much, 5 % of an assessment (80 golden visits,
interleaved, 25 rounds).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from service.results.declare import Member, declared_members
from service.results.expected import RangeOf
from service.results.quantity import Quantity
from service.results.record import Field, fields
from service.schemas.posting import posted
from service.schemas.sayings import SAYINGS
from service.words.say import Speaker

Writer = Callable[[Any, Speaker], dict[str, Any]]
SENT = {
    "text": "{value}",
    "number": "{value}",
    "integer": "{value}",
    "boolean": "{value}",
    "said": "{value}",
    "date": "{value}.isoformat()",
    "choice": "{value}",
    "texts": "list({value})",
    "capacitances": "list({value})",
    "quantity": "quantity({value}, speaker)",
    "range": "range_of({value}, speaker)",
    "computed": "written({value}, speaker)",
    "part": "part_{name}({value}, speaker)",
    "object": "part_{name}({value}, speaker)",
    "posted": "posted({value})",
    "inline": "part_{name}({value}, speaker)",
    "parts": "[part_{name}(each, speaker) for each in {value}]",
    "coded": "[part_{name}(of_{name}(code), speaker) for code in {value}]",
}
"""How a value of a kind is written."""
SIZED = frozenset({"text", "choice", "texts", "capacitances", "part", "parts", "coded"})
"""Kinds that can be empty: where they are and the member is not in every answer, it is left out."""


def written(item: Any, speaker: Speaker) -> dict[str, Any]:
    """A declared record of an answer, unknown members and empty parts left out."""
    return writer_of(item.__class__)(item, speaker)


@cache
def writer_of(of: type) -> Writer:
    """What writes a declared record: (item, speaker) -> members in their order.

    Raises: ValueError for a member of a kind or with a saying that nobody knows.
    """
    own = {Quantity: "quantity", RangeOf: "range_of"}
    known: dict[str, Any] = {name: writer_of(kind) for kind, name in own.items() if of not in own}
    known |= {"written": written, "posted": posted}
    held = {item.name: item for item in fields(of)}
    lines = ["def write(item, speaker):", "    body = {}"]
    for name, declared in declared_members(of):
        _note(known, of, name, declared)
        lines += _lines(name, declared, held.get(name))
    exec("\n".join([*lines, "    return body"]), known)
    made: Writer = known["write"]
    return made


def _note(known: dict[str, Any], of: type, name: str, declared: Member) -> None:
    """What the lines of a member call."""
    if declared.said and declared.said not in SAYINGS:
        raise ValueError(f"{of.__name__}.{name}: no saying {declared.said!r}; schemas/sayings.py has them")
    if declared.kind not in SENT:
        raise ValueError(f"{of.__name__}.{name}: no answer has the kind {declared.kind!r}")
    if declared.said:
        known[f"say_{name}"] = SAYINGS[declared.said]
    if declared.part is not None and declared.kind != "posted":
        known[f"part_{name}"], known[f"of_{name}"] = writer_of(declared.part), declared.part


def _lines(name: str, declared: Member, held: Field | None) -> Iterator[str]:
    """The lines of one member; held: its field, None for one that is only said."""
    source = f"say_{name}(item, {name!r}, speaker)" if declared.said else f"item.{name}"
    if declared.required and (held is None or held.default is not None):
        yield f"    body[{name!r}] = {_expression(name, declared, source)}"
        return
    value = _expression(name, declared, "value")
    if declared.kind == "part":
        yield f"    if value := {_expression(name, declared, source)}:"
        value = "value"
    elif declared.kind in SIZED and not declared.required:
        yield f"    if value := {source}:"
    else:
        yield f"    if (value := {source}) is not None:"
    yield f"        body |= {value}" if declared.kind == "inline" else f"        body[{name!r}] = {value}"


def _expression(name: str, declared: Member, value: str) -> str:
    if declared.decimals is not None:
        return f"round({value}, {declared.decimals})"
    if declared.said and declared.part is None:
        return value
    return SENT[declared.kind].format(name=name, value=value)
