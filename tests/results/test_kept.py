"""Results that a visit keeps: worked out once, each visit its own, nothing of it in the document."""

import pytest

from service.reasoning.assessment import WHOLE_VISIT
from service.reasoning.pipeline import open_case
from service.reasoning.set_aside import failures
from service.results.finding import Finding, Severity, State
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.kept import kept


@pytest.fixture
def asked():
    return []


@pytest.fixture
def length(asked):
    @kept
    def length(visit, *more):
        asked.append((visit.reference, *more))
        return None if visit.reference is None else len(visit.reference)

    return length


def test_it_is_worked_out_once_a_visit_and_argument(asked, length):
    visit = Visit(reference="abc")
    assert [length(visit), length(visit), length(visit, 1), length(visit, 1), length(visit, 2)] == [3] * 5
    assert asked == [("abc",), ("abc", 1), ("abc", 2)]


def test_none_is_kept_too(asked, length):
    visit = Visit()
    assert [length(visit), length(visit)] == [None, None]
    assert len(asked) == 1


def test_a_changed_visit_begins_anew(asked, length):
    visit = Visit(reference="abc")
    length(visit)
    assert length(replace(visit, reference="abcd")) == 4
    assert Visit(reference="abc") == visit
    assert "kept" not in repr(visit)


def test_a_case_keeps_as_well_and_a_changed_one_begins_anew():
    """What was found of a case's failures must not outlive the findings that they were found among."""
    failed = Finding("air.split-high", State.FAIL, Severity.WARNING, ("/air/supply_dry_bulb",))
    case = replace(open_case(Visit(), WHOLE_VISIT), findings=(failed,))
    assert failures(case) is failures(case)
    for other in (replace(case, findings=()), replace(case, findings=())):
        assert (failures(case), failures(other)) == ((failed,), ())


def test_what_is_raised_is_not_kept(asked):
    @kept
    def refuse(visit):
        asked.append(visit)
        raise ValueError("no")

    visit = Visit()
    for _ in range(2):
        with pytest.raises(ValueError, match="no"):
            refuse(visit)
    assert len(asked) == 2
