"""The rules by place: what they hold, and that a broken file stops the start and is named."""

from datetime import date

import pytest
import yaml

from service.knowledge import rule_book
from service.knowledge.refrigerants import find
from service.knowledge.rows import KnowledgeError
from service.knowledge.rule_book import book, overdue, read_book
from service.knowledge.rule_matching import covers
from service.results.units import POUND

ROW = {
    "code": "xx.leak-rate",
    "topic": "leak_rate",
    "title": "Leak Act",
    "clause": "1",
    "edition": "2026",
    "applies_when": {"charge_from_lb": 10, "ozone_depleting": False},
    "thresholds": {"percent": {"comfort_cooling": 5}},
    "valid_from": date(2026, 1, 1),
    "read_as": "original",
    "read_on": date(2026, 2, 1),
    "review_by": date(2027, 2, 1),
    "says": {"en": "Repair above 5 percent.", "es": "Reparar por encima del 5 por ciento."},
}
PLACE = {"code": "BR", "name": {"en": "Elsewhere", "es": "Otra parte"}}


def folder(tmp_path, row=None, place=None):
    made = tmp_path / "BR"
    made.mkdir(exist_ok=True)
    (made / "jurisdiction.yaml").write_text(yaml.safe_dump(PLACE | (place or {})))
    (made / "leaks.yaml").write_text(yaml.safe_dump([ROW | (row or {})]))
    return tmp_path


@pytest.mark.parametrize(
    ("code", "pounds", "applies"),
    [
        ("us.leak-rate.ozone-depleting", 50.0, True),
        ("us.leak-rate.ozone-depleting", 49.99, False),
        ("us.leak-rate.hydrofluorocarbon", 15.0, True),
        ("us.leak-rate.hydrofluorocarbon", 14.99, False),
        ("us.disposal-record", 5.0, False),
        ("us.disposal-record", 5.01, True),
        ("us.disposal-record", 49.99, True),
        ("us.disposal-record", 50.0, False),
        ("us.small-appliance", 5.0, True),
        ("us.small-appliance", 5.01, False),
    ],
)
def test_charges_on_the_line(code, pounds, applies):
    """82.157(a): 50 or more; 84.106: 15 or more; 82.156(a)(3): more than 5 and less than 50; 82.152: 5 or less."""
    assert book().rules[code].applies_when.charge(pounds * POUND) is applies


@pytest.mark.parametrize(
    ("refrigerant", "older", "newer"),
    [
        ("R-22", True, False),
        ("R-502", True, False),
        ("R-500", True, True),
        ("R-410A", False, True),
        ("R-454C", False, True),
        ("R-290", False, False),
        ("R-1234yf", False, False),
        ("R-744", False, False),
    ],
)
def test_which_rule_covers_a_refrigerant(refrigerant, older, newer):
    """82.157: ozone-depleting; 84.106(a)(1), (2), (3)(i): regulated HFC or above 53."""
    held = book().rules
    assert covers(held["us.leak-rate.ozone-depleting"].applies_when, find(refrigerant)) is older
    assert covers(held["us.leak-rate.hydrofluorocarbon"].applies_when, find(refrigerant)) is newer


@pytest.mark.parametrize(
    ("code", "first", "last"),
    [
        ("us.leak-rate.hydrofluorocarbon", date(2026, 1, 1), None),
        ("us.leak-rate.substitutes-until-2020", date(2019, 1, 1), date(2020, 4, 9)),
        ("us.new-equipment.split-until-2026", date(2025, 1, 1), date(2026, 7, 26)),
        ("us.new-equipment.split", date(2026, 7, 27), None),
        ("us.disposal-record", date(2018, 1, 1), None),
    ],
)
def test_days_before_and_after(code, first, last):
    rule, day = book().rules[code], date.fromordinal
    assert rule.in_force(first)
    assert not rule.in_force(day(first.toordinal() - 1))
    if last is not None:
        assert rule.in_force(last)
        assert not rule.in_force(day(last.toordinal() + 1))


def test_places():
    held = book()
    assert held.place("US-CA").line == ("US-CA", "US")
    assert held.place("US-TX").line == ("US",)
    assert held.place("ES").line == ("EU",)
    assert not held.place("BR").held
    assert held.place(None).line == ("US",)
    assert not read_book(None, None).place(None).held


def test_a_deployers_folder_adds_a_place(tmp_path):
    read = read_book(folder(tmp_path))
    assert read.held == (*book().held, "BR")
    assert read.rules["xx.leak-rate"].thresholds["percent"] == {"comfort_cooling": 5}
    assert read.digest != book().digest


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"topic": "leaks"}, "topic 'leaks' is not one of"),
        ({"read_as": "hearsay"}, "read_as 'hearsay'"),
        ({"clause": None}, "absent ['clause']"),
        ({"colour": "red"}, "unknown ['colour']"),
        ({"says": {"en": "Only English."}}, "says needs a text"),
        ({"review_by": date(2026, 2, 1)}, "review_by is not after read_on"),
        ({"valid_to": date(2025, 1, 1)}, "valid_to is before valid_from"),
        ({"valid_from": "soon"}, "valid_from is no date"),
        ({"thresholds": {}}, "absent ['percent']"),
        ({"thresholds": {"percent": {"home": 5}}}, "by class"),
        ({"thresholds": {"percent": {"other": 0}}}, "above 0"),
        ({"thresholds": {"percent": {"other": 5}, "days": 3}}, "unknown ['days']"),
        ({"applies_when": {"colour": "red"}}, "applies_when knows"),
        ({"applies_when": {"kinds": "multi_split"}}, "lists are"),
        ({"applies_when": {"kinds": ["boiler"]}}, "kinds: allowed is"),
        ({"applies_when": {"pressure_class": "huge"}}, "pressure class: allowed is"),
        ({"code": "us.release"}, "given twice"),
        ({"topic": "leak_check", "thresholds": {"bands": [{"from_tonnes": 5}]}}, "bands is a list"),
        (
            {
                "topic": "leak_check",
                "thresholds": {
                    "bands": [{"from_kilograms": at, "months": 1, "months_with_detection": 2} for at in (5, 1)]
                },
            },
            "in rising order",
        ),
    ],
)
def test_a_broken_rule_is_named(tmp_path, row, said):
    with pytest.raises(KnowledgeError) as refused:
        read_book(folder(tmp_path, row))
    assert said in str(refused.value)
    assert "BR/leaks.yaml" in str(refused.value)


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ({"code": "US"}, "given twice"),
        ({"code": "Brasil"}, "no ISO 3166 code"),
        ({"parent": "AR"}, "parent 'AR' is not held"),
        ({"parent": "BR"}, "in a circle"),
        ({"name": "Elsewhere"}, "name needs a text"),
        ({"flag": "green"}, "has code, name"),
    ],
)
def test_a_broken_place_is_named(tmp_path, place, said):
    with pytest.raises(KnowledgeError, match=said):
        read_book(folder(tmp_path, place=place))


def test_a_default_that_is_not_held_stops_the_start():
    try:
        with pytest.raises(KnowledgeError, match="DEFAULT_JURISDICTION 'BR' is not one of"):
            rule_book.install("BR", None)
    finally:
        rule_book.install("US", None)


def test_files_that_are_no_rules(tmp_path):
    place = folder(tmp_path) / "BR"
    (place / "leaks.yaml").write_text("a: [")
    with pytest.raises(KnowledgeError, match="no YAML"):
        read_book(tmp_path)
    (place / "leaks.yaml").write_text("a: b")
    with pytest.raises(KnowledgeError, match="not a list of rows"):
        read_book(tmp_path)
    (place / "jurisdiction.yaml").unlink()
    with pytest.raises(KnowledgeError, match=r"jurisdiction\.yaml is missing"):
        read_book(tmp_path)


def test_review():
    assert overdue(date(2026, 11, 28)) == ()
    late = overdue(date(2031, 1, 1))
    assert late[0].review_by <= late[-1].review_by
    assert len(late) > len(overdue(date(2027, 3, 2))) > 0


def test_every_rule_can_be_looked_up_and_says_how_it_was_read():
    for rule in book().rules.values():
        assert rule.title
        assert rule.clause
        assert rule.edition
        assert ("from memory" in rule.cited()) is (rule.read_as == "memory"), rule.code
        assert rule.review_by.isoformat() in rule.cited()
