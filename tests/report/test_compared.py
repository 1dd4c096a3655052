"""Readings beside their bounds: which are shown, how they lie, and where the mark stands."""

import pytest

from service.report.compared import ABOVE, BELOW, INSIDE, MOST, Compared, compared
from service.report.comparison import comparison_lines, comparison_picture, expected_words, position
from service.results.expected import ExpectedReadings, ExpectedRunning, RangeOf
from service.results.finding import Bounds, Finding, Severity, State
from service.results.quantity import Quantity
from service.results.record import replace
from service.results.units import Units
from service.results.visit import Visit
from service.schemas.documents import load
from service.words.say import Speaker

SPEAKER = Speaker(Units(temperature="degC"), 101325.0)


def row(value, low=None, high=None):
    return Compared("Row", value, low, high, "temperature_difference")


def finding(code, value, low=None, high=None, kind="temperature_difference", state=State.PASS):
    bounds = Bounds(kind, "table", "source", low, high)
    return Finding(code, state, Severity.WARNING, (), measured=Quantity(value, kind), limit=bounds)


@pytest.mark.parametrize(
    ("given", "verdict", "place"),
    [
        (row(10.0, 5.0, 15.0), INSIDE, 0.5),
        (row(15.0, 5.0, 15.0), INSIDE, 0.65),
        (row(20.0, 5.0, 15.0), ABOVE, 0.8),
        (row(0.0, 5.0, 15.0), BELOW, 0.2),
        (row(1000.0, 5.0, 15.0), ABOVE, 0.97),
        (row(-1000.0, 5.0, 15.0), BELOW, 0.03),
        (row(5.0, low=5.0), INSIDE, 0.35),
        (row(10.0, low=5.0), INSIDE, 0.65),
        (row(4.0, low=5.0), BELOW, 0.29),
        (row(15.0, high=15.0), INSIDE, 0.65),
        (row(30.0, high=15.0), ABOVE, 0.95),
    ],
)
def test_a_mark_stands_inside_its_band_exactly_when_the_value_is_inside(given, verdict, place):
    assert given.verdict == verdict
    assert position(given) == pytest.approx(place)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (row(10.0, 5.0, 15.0), "Row: 10.0 °C, in range. Expected: 5.0 to 15.0."),
        (row(4.0, low=5.0), "Row: 4.0 °C, low. Expected: 5.0 or more."),
        (row(16.0, high=15.0), "Row: 16.0 °C, high. Expected: 15.0 or less."),
    ],
)
def test_the_picture_is_said_in_words(given, words):
    assert comparison_lines([given], SPEAKER) == [words]
    assert words.encode() in comparison_picture([given], SPEAKER)


def test_a_value_stands_once_as_outside_or_else_with_both_bounds():
    findings = [
        finding("air.split-high", 18.0, high=22.0),
        finding("air.split-low", 18.0, low=16.0),
        finding("air.split-normal", 18.0, low=16.0, high=22.0),
        finding("charge.subcooling-low", 1.0, low=4.0, state=State.FAIL),
        finding("charge.subcooling-high", 1.0, high=8.0),
    ]
    rows = compared(Visit(), findings, ExpectedReadings(), SPEAKER)
    assert [(item.value, item.verdict, item.one_sided) for item in rows] == [
        (1.0, BELOW, False),
        (18.0, INSIDE, False),
    ]


def test_a_target_stands_with_the_bounds_and_the_unit_only_at_the_value():
    """Rule 8 of the words: reading, target, allowed."""
    target = Quantity(7.0, "temperature_difference")
    high = replace(finding("charge.superheat-high", 20.0, high=10.0, state=State.FAIL), values={"target": target})
    low = finding("charge.superheat-low", 20.0, low=4.0)
    (row,) = compared(Visit(), [low, high], ExpectedReadings(), SPEAKER)
    assert expected_words(row, SPEAKER) == "4.0 to 10.0 (target 7.0)"


def test_what_lies_inside_its_only_bound_has_no_row():
    assert compared(Visit(), [finding("air.split-high", 5.0, high=22.0)], ExpectedReadings(), SPEAKER) == ()


def test_what_has_no_bounds_or_bounds_of_another_kind_is_left_out():
    unlike = Finding(
        "air.split-high",
        State.PASS,
        Severity.INFO,
        (),
        measured=Quantity(1.0, "ratio"),
        limit=Bounds("percent", "table", "s", 1.0),
    )
    findings = [unlike, finding("air.split-low", 2.0), Finding("air.split-normal", State.PASS, Severity.INFO, ())]
    assert compared(Visit(), findings, ExpectedReadings(), SPEAKER) == ()


def test_readings_are_compared_with_their_expected_range():
    visit = load(Visit, {"running": {"suction_pressure": 118}})
    ranges = ExpectedRunning(suction_pressure=RangeOf(8e5, 9e5, 10e5, "pressure"))
    (found,) = compared(visit, [], ExpectedReadings(running=ranges), SPEAKER)
    assert (found.title, found.verdict) == ("Suction pressure", INSIDE)


def test_a_picture_has_so_many_rows_at_most():
    findings = [finding("air.split-high", float(value), high=1.0) for value in range(2, 22)]
    assert len(compared(Visit(), findings, ExpectedReadings(), SPEAKER)) == MOST


@pytest.mark.parametrize(
    ("language", "code", "title"),
    [
        ("en", "charge.subcooling-low", "Subcooling"),
        ("en", "running.condensing-high", "Condensing temperature over outdoor air"),
        ("es", "charge.superheat-high", "Sobrecalentamiento"),
        ("en", "air.filter-loaded", "Filter pressure drop"),
    ],
)
def test_a_value_is_called_by_its_name_and_not_by_its_verdict(language, code, title):
    speaker = Speaker(Units(), 101325.0, language)
    (row,) = compared(Visit(), [finding(code, 1.0, low=4.0, state=State.FAIL)], ExpectedReadings(), speaker)
    assert row.title == title
