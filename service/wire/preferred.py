"""Which of the languages spoken here a request prefers; read from its headers alone, before any framework."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from werkzeug.datastructures import LanguageAccept
from werkzeug.http import parse_accept_header

from service.words.locale import DEFAULT, LANGUAGES


def preferred_language(environ: Mapping[str, Any]) -> str:
    """The language that Accept-Language (RFC 9110, 12.5.4) prefers among those spoken here, otherwise English."""
    given = environ.get("HTTP_ACCEPT_LANGUAGE")
    return _preferred(given) if given else DEFAULT


@lru_cache(maxsize=256)
def _preferred(given: str) -> str:
    for tag, quality in parse_accept_header(given, LanguageAccept):
        primary = tag.partition("-")[0].lower()
        if quality > 0 and primary in LANGUAGES:
            return primary
    return DEFAULT
