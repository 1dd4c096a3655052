"""Refrigerants whose supply or new equipment a rule of the place has ended."""

from collections.abc import Iterator

from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.knowledge.rule_book import book
from service.knowledge.rule_matching import covers, covers_kind
from service.knowledge.rule_rows import Rule
from service.results.visit.dates import day_of

TOPICS = ("supply", "new_equipment")


def phased_out(
    name: str, on: str | None, kind: str | None = None, jurisdiction: str | None = None
) -> tuple[Rule, ...]:
    """The rules that have ended a refrigerant's supply or its new equipment, supply first.

    name: in any common spelling. on: date [ISO 8601] of the visit; only rules in force then are told. None: those
    without an end that held when they were read, each with its date in its text. Where the supply itself has
    ended, that alone is told. kind: of the equipment, as the request has it. jurisdiction: as
    the request names the place.
    """
    try:
        refrigerant = find(name)
    except UnknownRefrigerant:
        return ()
    covering = (rule for rule in _rules(on, jurisdiction) if covers(rule.applies_when, refrigerant))
    found = tuple(rule for rule in covering if covers_kind(rule.applies_when, kind))
    ended = tuple(rule for rule in found if rule.topic == "supply" and rule.thresholds["alone"])
    return ended or found


def _rules(on: str | None, jurisdiction: str | None) -> Iterator[Rule]:
    day, place = day_of(on), book().place(jurisdiction)
    for topic in TOPICS:
        held = place.rules(topic, day)
        yield from (
            rule for rule in held if day is not None or (rule.valid_to is None and rule.in_force(rule.read_on))
        )
