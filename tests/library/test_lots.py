"""The library entry: what it answers, in which order, and how long it may take in one piece."""

import doctest
import json

import pytest

from service.library import Assessed, Failed, Refused, assess_all, assess_beside, assess_one, lots
from service.reasoning import assessment
from service.results.refusal import Refusal
from service.wire.warm import typical_visit
from tests.golden import golden_cases

REFUSED = {"running": {"suction_pressure": "118"}}
GOLDEN = [
    case["request"]
    for _, case in golden_cases()
    if case["endpoint"] == "/v1/assessment" and case["expect"].get("status", 200) == 200
]


def visits(number):
    """Typical visits, no two alike."""
    for at in range(number):
        found = typical_visit() | {"reference": str(at)}
        found["air"]["outdoor_dry_bulb"] += at % 13 / 5.0
        yield found


def test_the_example_of_the_docstring_runs():
    assert doctest.testmod(lots).attempted > 0
    assert doctest.testmod(lots).failed == 0


def test_a_lot_says_of_each_visit_what_it_says_alone():
    documents = [*GOLDEN[::3], *visits(3)]
    assert len(documents) > 20
    together = list(assess_all(documents, most_seconds=10.0))
    for document, found in zip(documents, together, strict=True):
        assert json.dumps(found.document()) == json.dumps(assess_one(document).document())


def test_refusals_stay_in_their_place():
    documents = [{}, REFUSED, {}, ["no", "object"], {"equipment": {"refrigerant": "R-unheard"}}, {}]
    found = list(assess_all(documents))
    assert [type(item) for item in found] == [Assessed, Refused, Assessed, Refused, Refused, Assessed]
    assert [item.refusal.errors[0].pointer for item in found if isinstance(item, Refused)] == [
        "/running/suction_pressure",
        "",
        "/equipment/refrigerant",
    ]


def test_a_refused_line_alone_pays_for_itself(monkeypatch):
    """Its neighbours are judged once, together, as if it were not there."""
    judged = []

    def noting(visits):
        judged.append([visit.reference for visit in visits])
        return assessment.assess_all(visits)

    monkeypatch.setattr(lots, "_assessed", noting)
    named = [{"reference": name} for name in "abcdef"]
    list(assess_all([*named[:2], named[2], REFUSED, *named[3:5], REFUSED, named[5]], most_seconds=60.0))
    assert judged == [["a", "b"], ["c", "d", "e", "f"]]


def test_one_document_alone_raises_what_is_wrong_with_it(monkeypatch):
    with pytest.raises(Refusal):
        assess_one(REFUSED)

    def broken(_):
        raise IndexError

    monkeypatch.setattr(lots, "_assessed", broken)
    assert isinstance(next(assess_all([{}])), Failed)
    with pytest.raises(IndexError):
        assess_one({})


def test_one_that_breaks_takes_no_other_of_its_lot_with_it(monkeypatch):
    judged = []

    def breaking(visits):
        judged.append([visit.reference for visit in visits])
        if "b" in judged[-1]:
            raise ZeroDivisionError
        return assessment.assess_all(visits)

    monkeypatch.setattr(lots, "_assessed", breaking)
    found = list(assess_all([{"reference": name} for name in "xxabcd"], most_seconds=60.0))
    assert [type(item) for item in found] == [Assessed, Assessed, Assessed, Failed, Assessed, Assessed]
    assert judged == [["x", "x"], ["a", "b", "c", "d"], ["a"], ["b"], ["c"], ["d"]]


def test_items_without_a_document_keep_their_place():
    items = [("a", None), ("b", {}), ("c", None), ("d", REFUSED), ("e", {}), ("f", None), ("g", None)]
    found = [(item, type(answered).__name__) for item, answered in assess_beside(items)]
    none, yes, no = "NoneType", "Assessed", "Refused"
    assert found == [("a", none), ("b", yes), ("c", none), ("d", no), ("e", yes), ("f", none), ("g", none)]
    assert list(assess_beside([("a", None)])) == [("a", None)]
    assert list(assess_beside([])) == []


def test_documents_are_read_as_they_are_needed_so_that_memory_stays_flat():
    read = []

    def endless():
        while True:
            read.append(1)
            yield {}

    found = assess_all(endless())
    for _ in range(40):
        next(found)
    assert len(read) <= 40 + lots.LARGEST_LOT


class Clock:
    """Processor time that passes as the test says, whatever the machine does: so much for each visit [s]."""

    def __init__(self, monkeypatch, *seconds):
        self.now = 0.0
        self.sizes = []
        self.waits = []
        self._seconds = iter(seconds)
        monkeypatch.setattr(lots, "thread_time", lambda: self.now)
        monkeypatch.setattr(lots, "_assessed", self._judge)

    def _judge(self, visits):
        self.sizes.append(len(visits))
        self.waits.append(sum(next(self._seconds) for _ in visits))
        self.now += self.waits[-1]
        return [None] * len(visits)


@pytest.mark.parametrize(
    ("seconds", "sizes"),
    [
        (0.02, [2, 1, 1, 1, 1]),
        (0.009, [2, 3, 1]),
        (0.004, [2, 4]),
        (0.0, [2, 4]),
    ],
)
def test_the_slower_the_visits_the_smaller_the_lots(monkeypatch, seconds, sizes):
    clock = Clock(monkeypatch, *[seconds] * 6)
    list(assess_all([{} for _ in range(6)]))
    assert clock.sizes == sizes


def test_a_lot_has_no_more_than_so_many_however_fast_they_are(monkeypatch):
    clock = Clock(monkeypatch, *[0.0] * 40)
    list(assess_all([{} for _ in range(40)]))
    assert clock.sizes == [2, 16, 16, 6]


@pytest.mark.parametrize("slowest", [1.0, 1.25, 1.5])
def test_a_neighbour_waits_no_longer_than_50_ms_for_a_lot(monkeypatch, slowest):
    """Visits of 3 ms, some slower by half: a lot is planned by the one before it, and does not overshoot."""
    each = [0.003 * (slowest if number % 3 == 0 else 1.0) for number in range(80)]
    clock = Clock(monkeypatch, *each)
    list(assess_all([{} for _ in range(80)]))
    assert max(clock.waits) < 0.05
    assert max(clock.sizes) > 4
