"""What a person types at the prompt -> the value of a member of the document."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.results.declare import Member, declared_members
from service.results.units import KINDS, Units
from service.words.quantities import SYMBOLS

Ask = Callable[[str], str]
YES, NO = ("y", "yes", "true"), ("n", "no", "false")
OVER_LIMIT = ("ol", "o.l", "o.l.", "over limit")


class NotUnderstood(Exception):
    """What was typed cannot be read; the message says what can."""


def how_to_type(declared: Member, units: Units) -> str:
    """The unit, or what can be typed, in brackets."""
    if declared.kind == "boolean":
        return "[yes/no]"
    if declared.kind in ("choice", "choices"):
        return "[number or word]" if declared.kind == "choice" else "[numbers or words]"
    if declared.kind in ("resistance", "resistance_or_number", "insulation"):
        return "[ohm, or OL]"
    if declared.kind == "parts":
        return "[how many]"
    code = units.code(declared.kind) if declared.kind in KINDS else ""
    symbol = SYMBOLS.get(code, code)
    return f"[{symbol}]" if symbol else ""


def words_of(declared: Member) -> list[str]:
    """The words of a list, numbered."""
    return [f"{index:2} {item}" for index, item in enumerate(declared.choices, 1)]


def typed(declared: Member, said: str, ask: Ask) -> Any:
    """The value of what was typed. ask: for the members of a list. Raises: NotUnderstood."""
    return _READERS.get(declared.kind, _number)(declared, said, ask)


def _boolean(_: Member, said: str, __: Ask) -> bool:
    if said.lower() in YES + NO:
        return said.lower() in YES
    raise NotUnderstood("Type yes or no.")


def _choice(declared: Member, said: str, _: Ask) -> Any:
    by_word = {str(item): item for item in declared.choices}
    by_number = {str(index): item for index, item in enumerate(declared.choices, 1)}
    found = by_word.get(said, by_number.get(said))
    if found is None:
        raise NotUnderstood(f"Type one of: {', '.join(by_word)}, or its number.")
    return found


def _choices(declared: Member, said: str, ask: Ask) -> list[Any]:
    return [_choice(declared, word, ask) for word in said.replace(",", " ").split()]


def _resistance(_: Member, said: str, __: Ask) -> dict[str, Any]:
    return {"over_limit": True} if said.lower() in OVER_LIMIT else {"ohms": _float(said)}


def _insulation(declared: Member, said: str, ask: Ask) -> dict[str, Any]:
    """Ohms, megohms with an M behind the number, or OL."""
    if said[-1:] in ("M", "m"):
        return {"megohms": _float(said[:-1].strip())}
    return _resistance(declared, said, ask)


def _parts(declared: Member, said: str, ask: Ask) -> list[dict[str, Any]]:
    count = _float(said)
    if count not in range((declared.length or 0) + 1):
        raise NotUnderstood(f"Type a whole number, up to {declared.length}.")
    return [_one_part(declared, index + 1, ask) for index in range(int(count))]


def _one_part(declared: Member, number: int, ask: Ask) -> dict[str, Any]:
    assert declared.part is not None
    found: dict[str, Any] = {}
    for name, inner in declared_members(declared.part):
        said = ask(f"    {number}. {inner.description} {how_to_type(inner, Units())} ").strip()
        if said:
            found[name] = typed(inner, said, ask)
    return found


def _number(_: Member, said: str, __: Ask) -> float:
    return _float(said)


def _float(said: str) -> float:
    try:
        return float(said)
    except ValueError:
        raise NotUnderstood("Type a number, with a point for the decimals.") from None


_READERS: dict[str, Callable[[Member, str, Ask], Any]] = {
    "boolean": _boolean,
    "choice": _choice,
    "choices": _choices,
    "text": lambda _, said, __: said,
    "date": lambda _, said, __: said,
    "label": lambda _, said, __: said,
    "resistance": _resistance,
    "resistance_or_number": _resistance,
    "insulation": _insulation,
    "integer": lambda declared, said, ask: int(_number(declared, said, ask)),
    "parts": _parts,
}
