"""The catalogue of readings: every member of the visit document, with all that a form needs to ask for it."""

from collections.abc import Iterator
from functools import cache

from service.knowledge.reading_uses import findings_of
from service.knowledge.taking import taking_of
from service.results.declare import Member, declared_members
from service.results.record import Record
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
from service.schemas.lists.readings import ANSWERS, NUMBER, ReadingRange, ReadingRow, ReadingWord
from service.words.locale import meanings, text
from service.words.members import member_label

QUANTITIES = {"resistance": "ohms", "resistance_or_number": "ohms", "insulation": "megohms"}
"""The kind of quantity of an answer that is an object."""
RANGE_DIGITS = 4


class Place(Record):
    """A member in its place: pointer, the record that declares it, its name and declaration."""

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
def reading_list(language: str) -> tuple[ReadingRow, ...]:
    """The rows of GET /v1/readings."""
    return tuple(_row(place, language) for place in places())


def _row(place: Place, language: str) -> ReadingRow:
    declared, taking = place.declared, taking_of(place.pointer)
    quantity = QUANTITIES.get(declared.kind, declared.kind)
    chosen_by = _chosen_by(quantity)
    return ReadingRow(
        pointer=place.pointer,
        part=place.pointer.split("/")[1],
        label=member_label(language, place.of, place.name, declared),
        instruction=text(language, "taking", taking.code),
        answer=_answer(declared),
        quantity=quantity if quantity in KINDS else None,
        unit_chosen_by=chosen_by,
        ranges=_ranges(declared, quantity, chosen_by),
        words=tuple(_word(language, place.name, word) for word in declared.choices),
        maximum_length=declared.length,
        power=taking.power,
        minutes=taking.minutes,
        asked=taking.ask,
        instrument=taking.instrument,
        findings=findings_of(place.pointer),
    )


def _answer(declared: Member) -> str:
    """The kind of answer; a choice among whole numbers is posted as a number."""
    if declared.kind == "label" and not declared.choices:
        return "text"
    kind = "integer" if declared.choices and {type(word) for word in declared.choices} == {int} else declared.kind
    return ANSWERS.get(kind, NUMBER)


def _word(language: str, name: str, word: str | int) -> ReadingWord:
    """A word with what it means; a number says it itself."""
    return ReadingWord(str(word), meanings(language, name).get(word, str(word)))


def _ranges(declared: Member, quantity: str, chosen_by: str | None) -> tuple[ReadingRange, ...]:
    """The range of an answer, of a quantity in every unit there is; none for what is no number."""
    if declared.kind == "integer":
        return (ReadingRange("1", declared.low, declared.high),)
    if quantity not in KINDS:
        return ()
    choices = [Units(**{chosen_by: code}) for code in TABLE[chosen_by]] if chosen_by else [Units()]
    return tuple(_range(declared, quantity, units) for units in choices)


def _chosen_by(kind: str) -> str | None:
    """The member of `units` that chooses the unit of a kind; None where nothing does, or it is no quantity."""
    if kind in FIXED or kind not in KINDS:
        return None
    if kind in PER_TIME:
        return PER_TIME[kind][0]
    return BORROWED.get(PER_LENGTH.get(kind, kind), PER_LENGTH.get(kind, kind))


def _range(declared: Member, kind: str, units: Units) -> ReadingRange:
    """The range in one unit, rounded inward; gauge units at sea level. A pressure is above absolute zero."""
    low = 0.0 if declared.low is None and kind == "pressure" else declared.low
    return ReadingRange(units.code(kind), _end(low, kind, units, 1.0), _end(declared.high, kind, units, -1.0))


def _end(limit: float | None, kind: str, units: Units, inward: float) -> float | None:
    if limit is None:
        return None
    return _rounded_inward(from_si(limit, kind, units, STANDARD_ATMOSPHERE), inward)


def _rounded_inward(exact: float, inward: float) -> float:
    near = rounded(exact, RANGE_DIGITS)
    return near if inward * (near - exact) >= -1e-9 else rounded(near + inward * 10.0**-RANGE_DIGITS, RANGE_DIGITS)
