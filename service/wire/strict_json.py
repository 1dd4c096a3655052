"""Strict JSON (RFC 8259, with the interoperability advice of RFC 7493 made rules).

The standard library's scanner is used with hooks, because faster parsers keep the last of two equal names.
The first pass is the fast one and only notices that something is wrong; the second pass, taken by refused
documents alone, marks each flaw in place so that a JSON Pointer can name it.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any, NoReturn

from service.results.record import Record
from service.results.refusal import FieldError, Phrase, phrase
from service.wire.problems import ProblemError

MOST_LEVELS = 32
MOST_DIGITS = 300
"""An integer of up to 300 digits still fits a float; a longer one is refused rather than lost."""
_MOST_FLAWS = 20
_SURROGATE_ESCAPE = re.compile(r"\\u[dD][89a-fA-F]")
_SURROGATE = re.compile("[\ud800-\udfff]")


class _Flawed(Exception):
    """The document has a flaw; the second pass finds where."""


class _Flaw(Record):
    code: str


def parse(raw: bytes) -> dict[str, Any]:
    """Read one JSON object strictly.

    Parameters
    ----------
    raw: the bytes of the body, UTF-8 without a byte order mark.

    Returns
    -------
    The document, at most 32 levels deep, numbers finite, names unique, texts free of lone surrogates.

    Raises
    ------
    ProblemError: `request.not-json`, with a JSON Pointer where the flaw has a place.
    """
    text = _decoded(raw)
    try:
        found = _STRICT.decode(text)
        if (_may_be_deep(text) and _too_deep(found)) or _SURROGATE_ESCAPE.search(text):
            raise _Flawed
    except (_Flawed, RecursionError):
        found = _explained(text)
    except json.JSONDecodeError as error:
        raise _syntax(error) from None
    if not isinstance(found, dict):
        raise _refused(FieldError("", "json.not-an-object", phrase("json.not-an-object"), ("object",)))
    return found


def _decoded(raw: bytes) -> str:
    if not raw.strip():
        raise _refused(FieldError("", "json.empty", phrase("json.empty")))
    if raw.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise _refused(FieldError("", "json.byte-order-mark", phrase("json.byte-order-mark")))
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        detail = phrase("json.not-utf-8", place=str(error.start + 1))
        raise _refused(FieldError("", "json.not-utf-8", detail)) from None


def _explained(text: str) -> Any:
    """The document after all when it has no flaw; otherwise the refusal that names each one."""
    try:
        found = _MARKING.decode(text)
    except json.JSONDecodeError as error:
        raise _syntax(error) from None
    except RecursionError:
        raise _refused(_field_error("", "json.too-deep")) from None
    flaws = tuple(_flaws(found))
    if flaws:
        raise _refused(*flaws)
    return found


def _may_be_deep(text: str) -> bool:
    """Whether there are enough brackets to nest deeper than allowed; most documents have fewer."""
    return text.count("{") + text.count("[") > MOST_LEVELS


def _too_deep(found: Any) -> bool:
    """Whether containers nest deeper than allowed, level by level so that depth costs no recursion."""
    level: list[Any] = [[found]]
    for _ in range(MOST_LEVELS + 1):
        level = [
            child
            for node in level
            for child in (node.values() if type(node) is dict else node)
            if type(child) is dict or type(child) is list
        ]
        if not level:
            return False
    return True


def _flaws(found: Any) -> Iterator[FieldError]:
    """Each flaw of a marked document, in document order, the first twenty."""
    pending: list[tuple[str, int, Any]] = [("", 1, found)]
    count = 0
    while pending and count < _MOST_FLAWS:
        pointer, depth, node = pending.pop()
        code = _code_of(node, depth)
        if code:
            count += 1
            yield _field_error(pointer, code)
        elif isinstance(node, (dict, list)):
            items = node.items() if isinstance(node, dict) else enumerate(node)
            pending += [(_joined(pointer, name), depth + 1, child) for name, child in reversed(list(items))]


def _code_of(node: Any, depth: int) -> str | None:
    if isinstance(node, _Flaw):
        return node.code
    if isinstance(node, str):
        return "json.lone-surrogate" if _SURROGATE.search(node) else None
    if isinstance(node, (dict, list)):
        if depth > MOST_LEVELS:
            return "json.too-deep"
        if isinstance(node, dict) and any(_SURROGATE.search(name) for name in node):
            return "json.lone-surrogate"
    return None


def _joined(pointer: str, name: str | int) -> str:
    return f"{pointer}/{str(name).replace('~', '~0').replace('/', '~1')}"


_MOST: dict[str, Phrase] = {"json.too-deep": phrase("json.too-deep", most=str(MOST_LEVELS))}


def _field_error(pointer: str, code: str) -> FieldError:
    """A flaw by its code, which is that of its text as well."""
    return FieldError(pointer, code, _MOST.get(code) or phrase(code))


def _refused(*errors: FieldError) -> ProblemError:
    return ProblemError("request.not-json", errors=errors)


def _syntax(error: json.JSONDecodeError) -> ProblemError:
    detail = phrase("json.syntax", line=str(error.lineno), column=str(error.colno))
    return _refused(FieldError("", "json.syntax", detail))


def _flawed(_: str) -> NoReturn:
    raise _Flawed


def _strict_object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise _Flawed
    return found


def _strict_float(text: str) -> float:
    number = float(text)
    if math.isinf(number):
        raise _Flawed
    return number


def _strict_int(text: str) -> int:
    if len(text) > MOST_DIGITS:
        raise _Flawed
    return int(text)


def _marked_object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        found[name] = _Flaw("json.duplicate-name") if name in found else value
    return found


def _marked_float(text: str) -> float | _Flaw:
    number = float(text)
    return _Flaw("json.number-out-of-range") if math.isinf(number) else number


def _marked_int(text: str) -> int | _Flaw:
    return int(text) if len(text) <= MOST_DIGITS else _Flaw("json.number-out-of-range")


_STRICT = json.JSONDecoder(
    object_pairs_hook=_strict_object, parse_float=_strict_float, parse_int=_strict_int, parse_constant=_flawed
)
_MARKING = json.JSONDecoder(
    object_pairs_hook=_marked_object,
    parse_float=_marked_float,
    parse_int=_marked_int,
    parse_constant=lambda _: _Flaw("json.not-a-number"),
)
