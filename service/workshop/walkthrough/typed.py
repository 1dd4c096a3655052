"""What a person types at the prompt -> the value of a member of the document."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.results.declare import Member, declared_members
from service.results.record import Record
from service.results.units import KINDS, Units
from service.schemas.reading_list import reading_list
from service.words.quantities import SYMBOLS

Ask = Callable[[str], str]


class Items(Record):
    """How the items of a list are asked: its pointer, the members of each (None: all), units, the prompt."""

    pointer: str
    members: tuple[str, ...] | None
    units: Units
    ask: Ask


YES, NO = ("y", "yes", "true"), ("n", "no", "false")
OVER_LIMIT = ("ol", "o.l", "o.l.", "over limit")


class NotUnderstood(Exception):
    """What was typed cannot be read; the message says what can."""


def how_to_type(declared: Member, units: Units) -> str:
    """The unit, or what can be typed, in brackets."""
    if declared.kind == "boolean":
        return "[yes/no]"
    if declared.kind in ("choice", "choices"):
        return "[number]" if declared.kind == "choice" else "[numbers, with commas]"
    if declared.kind in ("resistance", "resistance_or_number", "insulation"):
        return "[ohm, or OL]"
    if declared.kind == "parts":
        return "[how many]"
    if declared.kind == "date":
        return "[year-month-day]"
    code = units.code(declared.kind) if declared.kind in KINDS else ""
    symbol = SYMBOLS.get(code, code)
    return f"[{symbol}]" if symbol else ""


def titled(pointer: str, declared: Member) -> dict[str, str]:
    """Each word of a closed list with what the trade calls it."""
    found = next((row.words for row in reading_list("en") if row.pointer == pointer), ())
    titles = {word.word: word.title for word in found}
    return {str(word): titles.get(str(word), str(word).replace("_", " ")) for word in declared.choices}


def typed(declared: Member, said: str, items: Items) -> Any:
    """The value of what was typed. items: how the members of a list are asked. Raises: NotUnderstood."""
    return _READERS.get(declared.kind, _number)(declared, said, items)


def _boolean(_: Member, said: str, __: Items) -> bool:
    if said.lower() in YES + NO:
        return said.lower() in YES
    raise NotUnderstood("Type yes or no.")


def _choice(declared: Member, said: str, _: Items) -> Any:
    by_word = {str(item): item for item in declared.choices}
    by_number = {str(index): item for index, item in enumerate(declared.choices, 1)}
    found = by_word.get(said, by_number.get(said))
    if found is None:
        raise NotUnderstood(f"Type a number from 1 to {len(by_number)}, or the words beside it.")
    return found


def _choices(declared: Member, said: str, items: Items) -> list[Any]:
    return [_choice(declared, word, items) for word in said.replace(",", " ").split()]


def _resistance(_: Member, said: str, __: Items) -> dict[str, Any]:
    return {"over_limit": True} if said.lower() in OVER_LIMIT else {"ohms": _float(said)}


def _insulation(declared: Member, said: str, items: Items) -> dict[str, Any]:
    """Ohms, megohms with an M behind the number, or OL."""
    if said[-1:] in ("M", "m"):
        return {"megohms": _float(said[:-1].strip())}
    return _resistance(declared, said, items)


def _parts(declared: Member, said: str, items: Items) -> list[dict[str, Any]]:
    count = _float(said)
    if count not in range((declared.length or 0) + 1):
        raise NotUnderstood(f"Type a whole number, up to {declared.length}.")
    return [_one_part(declared, index + 1, items) for index in range(int(count))]


def _one_part(declared: Member, number: int, items: Items) -> dict[str, Any]:
    assert declared.part is not None
    members = dict(declared_members(declared.part))
    found: dict[str, Any] = {}
    for name in items.members or tuple(members):
        value = _of_item(members[name], f"{items.pointer}/0/{name}", number, items)
        if value is not None:
            found[name] = value
    return found


def _of_item(inner: Member, pointer: str, number: int, items: Items) -> Any:
    """One member of an item; asked again until it is understood, None where it was not taken."""
    words = titled(pointer, inner)
    listed = ", ".join(f"{at} {title}" for at, title in enumerate(words.values(), 1))
    how = f"[{listed}]" if listed else how_to_type(inner, items.units)
    while True:
        said = items.ask(f"  {number}. {inner.description} {how} > ")
        if not said:
            return None
        by_title = {title.lower(): word for word, title in words.items()}
        try:
            return typed(inner, by_title.get(said.lower(), said), items)
        except NotUnderstood as reason:
            print(f"  {reason}")


def _number(_: Member, said: str, __: Items) -> float:
    return _float(said)


def _float(said: str) -> float:
    try:
        return float(said)
    except ValueError:
        raise NotUnderstood("Type a number, with a point for the decimals.") from None


_READERS: dict[str, Callable[[Member, str, Items], Any]] = {
    "boolean": _boolean,
    "choice": _choice,
    "choices": _choices,
    "text": lambda _, said, __: said,
    "date": lambda _, said, __: said,
    "label": lambda _, said, __: said,
    "resistance": _resistance,
    "resistance_or_number": _resistance,
    "insulation": _insulation,
    "integer": lambda declared, said, items: int(_number(declared, said, items)),
    "parts": _parts,
}
