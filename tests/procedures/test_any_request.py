"""Whatever a request says: an answer in finite numbers and plain words, or a refusal with a pointer."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.results.declare import declared_members
from service.results.record import replace
from service.results.refusal import Refusal
from service.results.visit.equipment import Equipment
from service.schemas.writing import written
from service.words.say import Speaker
from tests.procedures.judging import PROCEDURES

NAMES = [
    "R-410A",
    "R-22",
    "R-32",
    "R-290",
    "R-454B",
    "R-744",
    "R-123",
    "empty",
    "mixed",
    "nitrogen",
    "oxygen",
    "soup",
]
PLAIN = {
    "boolean": st.booleans(),
    "text": st.sampled_from(NAMES),
    "place": st.sampled_from(["US", "US-CA", "US-NY", "FR", "EU", "BR", "XX-1"]),
    "date": st.dates().map(lambda day: day.isoformat()),
}


def values(declared):
    if declared.kind in PLAIN:
        return PLAIN[declared.kind]
    if declared.kind == "choice":
        return st.sampled_from(declared.choices)
    if declared.kind == "parts":
        return st.lists(documents(declared.part), max_size=8).map(tuple)
    if declared.kind == "part":
        return documents(declared.part)
    low = declared.low if declared.low is not None else -1e5
    return st.one_of(
        st.floats(low, declared.high), st.sampled_from([low, declared.high, (low + declared.high) / 100.0 + low])
    )


def documents(form):
    if form is Equipment:
        return st.sampled_from(["R-410A", "R-22", "R-32", "R-290", "R-744", None]).flatmap(
            lambda name: partly(Equipment, LINES).map(lambda made: replace(made, refrigerant=name))
        )
    return partly(form)


LINES = (
    "kind",
    "metering_location",
    "factory_charge",
    "included_line_length",
    "line_length",
    "liquid_line_diameter",
    "suction_line_diameter",
    "room_area",
    "low_side_design_pressure",
)


def partly(form, names=None):
    members = {
        name: values(declared) for name, declared in declared_members(form) if names is None or name in names
    }
    return st.fixed_dictionaries({}, optional=members).map(lambda given_members: form(**given_members))


def judged(procedure, request):
    try:
        return procedure(request), ()
    except Refusal as refusal:
        return None, tuple(error.pointer for error in refusal.errors)


@pytest.mark.parametrize("name", PROCEDURES)
def test_any_request(name):
    procedure, form = PROCEDURES[name]

    @settings(max_examples=150, deadline=None, database=None, derandomize=True)
    @given(documents(form))
    def answers(request):
        checked, pointers = judged(procedure, request)
        assert all(pointer.startswith("/") for pointer in pointers)
        if checked is None:
            assert pointers
            return
        speaker = Speaker(request.units, request.site_pressure)
        assert checked.findings
        assert all(speaker.detail(finding) for finding in checked.findings)
        assert all(speaker.missing(item) for item in checked.missing)
        assert all(speaker.assumption(item) for item in checked.assumptions)
        json.dumps(written(checked.computed, speaker), allow_nan=False)

    answers()
