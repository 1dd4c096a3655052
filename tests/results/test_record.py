"""A record does what a frozen dataclass does, beside the standard library's own, and keeps what it was told."""

import copy
import pickle
from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as standard_field
from functools import cached_property
from typing import ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.results.record import (
    ABSENT,
    Record,
    asdict,
    declared_fields,
    field,
    fields,
    names_of,
    record_of,
    replace,
)

VALUES = st.one_of(st.none(), st.integers(), st.floats(allow_nan=False), st.text(), st.tuples(st.integers()))


class Place(Record):
    """Where."""

    room: str = field(metadata={"told": "room"})
    said: ClassVar[str] = field(metadata={"told": "said"})
    seats: object = 4
    words: Mapping[str, str] = field(default_factory=dict)


class Hall(Place):
    """A place with more to it."""

    stage: object = None


@dataclass(frozen=True, slots=True)
class StandardPlace:
    room: str
    seats: object = 4
    words: Mapping[str, str] = standard_field(default_factory=dict)


class Counted(Record, dict=True):
    """A record that works something out once."""

    name: str

    @cached_property
    def found(self) -> list[str]:
        return [self.name]


class Alone(Record, eq=False):
    """The same by identity only."""

    name: str


@given(VALUES, VALUES)
def test_it_compares_hashes_and_prints_as_a_frozen_dataclass(one, other):
    ours, theirs = (Place("a", one), Place("a", other)), (StandardPlace("a", one), StandardPlace("a", other))
    assert (ours[0] == ours[1]) is (theirs[0] == theirs[1])
    assert repr(ours[0]) == repr(theirs[0]).replace("StandardPlace", "Place")
    assert Place("a", one) == Place("a", one)
    plain = Alone("x"), Alone("x")
    assert plain[0] != plain[1]
    assert len(set(plain)) == 2


@given(VALUES, VALUES)
def test_equal_records_have_one_hash(one, other):
    a, b = Counted(one), Counted(other)
    assert a != b or hash(a) == hash(b)


def test_nothing_changes_it_and_another_class_is_never_equal():
    place = Place("a")
    for change in (lambda: setattr(place, "room", "b"), lambda: delattr(place, "room")):
        with pytest.raises(AttributeError):
            change()
    assert place != Hall("a")
    assert place.words is not Place("a").words


def test_what_is_missing_or_unknown_is_refused():
    for call in (Place, lambda: Place("a", rooms=1), lambda: replace(Place("a"), rooms=1)):
        with pytest.raises(TypeError):
            call()


def test_what_field_was_told_is_kept_with_inherited_members_first():
    assert names_of(Hall) == ("room", "seats", "words", "stage")
    assert [item.name for item in declared_fields(Hall)] == ["room", "said", "seats", "words", "stage"]
    assert fields(Hall("a")) == fields(Hall)
    assert [item.name for item in fields(Hall)] == list(names_of(Hall))
    assert [item.metadata.get("told") for item in declared_fields(Hall)] == ["room", "said", None, None, None]
    room, seats = fields(Place)[:2]
    assert (room.default, seats.default) == (ABSENT, 4)
    assert not hasattr(Place, "said")


def test_what_one_has_worked_out_is_its_own():
    counted = Counted("a")
    counted.found.append("b")
    assert counted.found == ["a", "b"]
    for other in (
        replace(counted),
        replace(counted, name="a"),
        copy.copy(counted),
        pickle.loads(pickle.dumps(counted)),
    ):
        assert other == counted
        assert other.found == ["a"]
    assert "found" not in repr(counted)


def test_it_travels_between_processes_and_becomes_a_mapping():
    hall = Hall("a", 3, {"x": "y"}, stage=(1, 2))
    assert pickle.loads(pickle.dumps(hall)) == hall
    assert asdict(hall) == {"room": "a", "seats": 3, "words": {"x": "y"}, "stage": (1, 2)}


def test_a_class_made_from_data_is_as_one_that_is_written():
    made = record_of(
        "Made", "What it is.", [("a", str, field(metadata={"told": 1})), ("b", int, field(default=2))]
    )
    assert (made.__name__, made.__doc__, names_of(made)) == ("Made", "What it is.", ("a", "b"))
    assert made("x") == made(a="x", b=2)
    assert fields(made)[0].metadata == {"told": 1}
