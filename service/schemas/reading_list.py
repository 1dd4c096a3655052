"""The catalogue of readings: every member of the visit document, with all that a form needs to ask for it."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from service.knowledge.reading_uses import findings_of
from service.knowledge.taking import taking_of
from service.results.declare import Member, declared_members
from service.results.units import (
    BORROWED,
    FIXED,
    KINDS,
    PER_LENGTH,
    PER_TIME,
    STANDARD_ATMOSPHERE,
    TABLE,
    Units,
    from_si,
    rounded,
)
from service.results.visit import Visit
from service.results.visit.priors import Priors
from service.words.locale import text, texts
from service.words.members import member_label

ANSWERS = {
    "boolean": "yes_no",
    "integer": "whole_number",
    "choice": "choice",
    "choices": "choices",
    "text": "text",
    "label": "choice",
    "place": "text",
    "date": "date",
    "date_time": "date_time",
    "resistance": "resistance",
    "resistance_or_number": "resistance",
    "insulation": "insulation",
    "numbers": "numbers",
    "parts": "list",
}
NUMBER = "number"
KINDS_OF_ANSWER = (NUMBER, *dict.fromkeys(ANSWERS.values()))
QUANTITIES = {"resistance": "ohms", "resistance_or_number": "ohms", "insulation": "megohms"}
"""The kind of quantity of an answer that is an object."""
RANGE_DIGITS = 4


@dataclass(frozen=True, slots=True)
class Place:
    """A member in its place: pointer, the dataclass that declares it, its name and declaration."""

    pointer: str
    of: type
    name: str
    declared: Member


def places(of: type = Visit, base: str = "") -> Iterator[Place]:
    """Every member that takes an answer, in document order; the items of a list under its first place.

    What repeats the document (the baseline) is left out: its pointers are the same behind its own prefix. Shares
    that a fleet has learnt are left out too: nobody takes them at the unit.
    """
    for name, declared in declared_members(of):
        place = Place(f"{base}/{name}", of, name, declared)
        if declared.part is Priors:
            continue
        if declared.kind == "part":
            yield from places(_part(declared), place.pointer)
        elif declared.kind == "parts":
            yield place
            yield from places(_part(declared), f"{place.pointer}/0")
        elif declared.kind != "baseline":
            yield place


def _part(declared: Member) -> type:
    assert declared.part is not None
    return declared.part


@cache
def reading_list(language: str) -> tuple[dict[str, Any], ...]:
    """The rows of GET /v1/readings; not to be changed, they are shared."""
    return tuple(_row(place, language) for place in places())


def _row(place: Place, language: str) -> dict[str, Any]:
    declared, taking = place.declared, taking_of(place.pointer)
    body: dict[str, Any] = {
        "pointer": place.pointer,
        "part": place.pointer.split("/")[1],
        "label": member_label(language, place.of, place.name, declared),
        "instruction": text(language, "taking", taking.code),
        "answer": "text" if _is_open_label(declared) else ANSWERS.get(declared.kind, NUMBER),
    }
    body |= _quantity(declared)
    if declared.choices:
        body["words"] = [_word(language, place.name, word) for word in declared.choices]
    if declared.length is not None:
        body["most"] = declared.length
    body |= {"power": taking.power, "minutes": taking.minutes, "asked": taking.ask}
    if taking.instrument is not None:
        body["instrument"] = taking.instrument
    body["findings"] = list(findings_of(place.pointer))
    return body


def _is_open_label(declared: Member) -> bool:
    return declared.kind == "label" and not declared.choices


def _word(language: str, name: str, word: str | int) -> dict[str, str]:
    """A word with what it means; a number says it itself."""
    found = texts(language, "list_words").get(name, {})
    return {"word": str(word), "title": found.get(word, str(word))}


def _quantity(declared: Member) -> dict[str, Any]:
    """Kind of quantity, the member of `units` that chooses its unit, and its range in every unit there is."""
    if declared.kind == "integer":
        return {"ranges": [{"unit": "1", "low": declared.low, "high": declared.high}]}
    kind = QUANTITIES.get(declared.kind, declared.kind)
    if kind not in KINDS:
        return {}
    chosen_by = _chosen_by(kind)
    choices = [Units(**{chosen_by: code}) for code in TABLE[chosen_by]] if chosen_by else [Units()]
    body: dict[str, Any] = {"quantity": kind}
    if chosen_by:
        body["unit_chosen_by"] = chosen_by
    return body | {"ranges": [_range(declared, kind, units) for units in choices]}


def _chosen_by(kind: str) -> str | None:
    if kind in FIXED:
        return None
    if kind in PER_TIME:
        return PER_TIME[kind][0]
    return BORROWED.get(PER_LENGTH.get(kind, kind), PER_LENGTH.get(kind, kind))


def _range(declared: Member, kind: str, units: Units) -> dict[str, Any]:
    """The range in one unit, rounded inward; gauge units at sea level. A pressure is above absolute zero."""
    body: dict[str, Any] = {"unit": units.code(kind)}
    low = 0.0 if declared.low is None and kind == "pressure" else declared.low
    for name, limit, inward in (("low", low, 1.0), ("high", declared.high, -1.0)):
        if limit is not None:
            exact = from_si(limit, kind, units, STANDARD_ATMOSPHERE)
            body[name] = _rounded_inward(exact, inward)
    return body


def _rounded_inward(exact: float, inward: float) -> float:
    near = rounded(exact, RANGE_DIGITS)
    return near if inward * (near - exact) >= -1e-9 else rounded(near + inward * 10.0**-RANGE_DIGITS, RANGE_DIGITS)
