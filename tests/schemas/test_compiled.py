"""The compiled loader accepts exactly what the marshmallow schemas accept, and gives the same records."""

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.results.declare import declared_members
from service.results.record import names_of
from service.results.refusal import Refusal
from service.results.saturation import SaturationRequest
from service.results.units import TABLE
from service.results.visit import Visit
from service.schemas.documents import load, load_explained

HOSTILE = st.one_of(
    st.none(),
    st.booleans(),
    st.text(max_size=3),
    st.integers(-(10**400), 10**400),
    st.floats(allow_nan=False, allow_infinity=False),
    st.lists(st.integers(), max_size=2),
    st.dictionaries(
        st.sampled_from(["ohms", "over_limit", "megohms", "units", "x"]), st.integers(0, 9), max_size=2
    ),
)
NUMBERS = st.one_of(st.integers(-100, 1000), st.floats(-100, 1000))
RESISTANCES = st.one_of(
    st.just({"over_limit": True}), st.builds(lambda ohms: {"ohms": ohms}, st.floats(0, 1e6)), NUMBERS
)
UNITS = st.fixed_dictionaries({}, optional={name: st.sampled_from(sorted(table)) for name, table in TABLE.items()})
BY_KIND = {
    "boolean": st.booleans(),
    "text": st.text("R-0123456789a", min_size=1, max_size=8),
    "label": st.sampled_from([1, 10, "10", "1/0", "A"]),
    "date": st.sampled_from(["2026-07-14", "2026-13-01"]),
    "integer": st.integers(0, 2030),
    "resistance": RESISTANCES,
    "resistance_or_number": RESISTANCES,
    "numbers": st.lists(st.floats(-9, 9), min_size=9, max_size=10),
    "insulation": st.sampled_from(
        [{"ohms": 5.0}, {"megohms": 100}, {"over_limit": True}, {"ohms": 1, "megohms": 1}]
    ),
}


def member_values(declared):
    if declared.kind == "choice":
        return st.sampled_from(declared.choices)
    if declared.kind == "choices":
        return st.lists(st.sampled_from(declared.choices), max_size=3)
    if declared.kind == "parts":
        return st.lists(documents(declared.part), max_size=2)
    if declared.kind in ("part", "baseline"):
        return documents(declared.part)
    return BY_KIND.get(declared.kind, NUMBERS)


def documents(document):
    members = {name: st.one_of(member_values(declared), HOSTILE) for name, declared in declared_members(document)}
    if "units" in names_of(document):
        members["units"] = st.one_of(UNITS, HOSTILE)
    chosen = st.lists(st.sampled_from(sorted(members)), max_size=4, unique=True)
    return chosen.flatmap(lambda names: st.fixed_dictionaries({name: members[name] for name in names}))


def outcome(loader, document, content):
    try:
        return loader(document, content)
    except Refusal as refusal:
        return {(error.pointer, error.code) for error in refusal.errors}


@pytest.mark.parametrize("document", [Visit, SaturationRequest])
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_both_ways_agree(document, data):
    content = data.draw(documents(document))
    assert outcome(load, document, content) == outcome(load_explained, document, content)


def test_a_number_beyond_any_float_is_out_of_range():
    content = {"air": {"outdoor_dry_bulb": 10**400}}
    assert outcome(load, Visit, content) == {("/air/outdoor_dry_bulb", "document.out-of-range")}


def test_the_compiled_way_is_taken(monkeypatch):
    monkeypatch.setattr("service.schemas.documents.load_explained", None)
    visit = load(Visit, {"air": {"outdoor_dry_bulb": 95}})
    assert math.isclose(visit.air.outdoor_dry_bulb, 308.15)
