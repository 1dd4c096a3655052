"""HTML from Python, escaped once and in one place."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape


class Markup(str):
    """Text that is HTML already."""


def element(name: str, *children: str, **attributes: str) -> Markup:
    """An element; children that are not Markup are escaped. Attribute names lose a trailing underscore."""
    given = "".join(f' {key.rstrip("_").replace("_", "-")}="{escape(value)}"' for key, value in attributes.items())
    inner = "".join(child if isinstance(child, Markup) else escape(child, quote=False) for child in children)
    return Markup(f"<{name}{given}>{inner}</{name}>")


def joined(parts: Iterable[str], between: str = " ") -> Markup:
    """Parts one after another, escaped unless they are Markup."""
    escaped = (part if isinstance(part, Markup) else Markup(escape(part, quote=False)) for part in parts)
    return Markup(Markup(between).join(escaped))


def link(code: str, said: str) -> Markup:
    """A link to the entry of a code on the same page."""
    return element("a", said, href=f"#{code}")


def bullets(items: Iterable[str]) -> Markup:
    """A list, or nothing when it would be empty."""
    made = [element("li", item) for item in items]
    return element("ul", *made) if made else Markup("")
