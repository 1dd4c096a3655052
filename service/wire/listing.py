"""Lists that change only with the version: one way to describe them, one way to send them."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from flask import Response

from service.library.provenance import edition
from service.schemas.writing import written
from service.wire.described import Example, View, described
from service.wire.responding import catalogue, encode
from service.words.locale import DEFAULT
from service.words.say import plain_speaker


def code_list(operation_id: str, answer: type, *, spoken: bool = True) -> Callable[[View], View]:
    """Describe a code list; one in words is shown in Spanish, too."""
    spanish = (Example("spanish", "The list in Spanish", language="es"),) if spoken else ()
    examples = (Example("all", "The list"), *spanish)
    return described(operation_id, "Code lists", answer=answer, spoken=spoken, examples=examples)


def sent(answer: Any, language: str | None = None) -> Response:
    """A declared answer that changes only with the version; language: that it is in, None where in no words."""
    return catalogue(_encoded(answer, language or DEFAULT), language=language)


def listed(make: Callable[[str], Any], language: str | None = None) -> Response:
    """As `sent`, of a whole list: it is made once in each language, and again where the edition is another.

    make: (language) -> the declared list.
    """
    return catalogue(_made(make, language or DEFAULT, edition()), language=language)


@lru_cache(maxsize=64)
def _made(make: Callable[[str], Any], language: str, _: str) -> bytes:
    return _encoded(make(language), language)


def _encoded(answer: Any, language: str) -> bytes:
    return encode(written(answer, plain_speaker(language)))
