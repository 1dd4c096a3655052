"""Answers are written from their declarations; what cannot be written stops the start, not a request.

Real answers are held against the contract made from the same declarations in tests/contract/test_answers.py.
"""

from typing import ClassVar

import pytest

from service.results.answer import Answer
from service.results.declare import member, sent, sent_if_known
from service.results.planned import Minutes, PartNeeded, RatedNumbers
from service.results.quantity import Quantity
from service.results.record import Record, field
from service.results.units import Units
from service.schemas.answer_shape import answer_of
from service.schemas.writing import writer_of, written
from service.words.say import Speaker

SPEAKER = Speaker(Units(), 101325.0)


class Some(Record):
    """One member of each way to be left out."""

    name: str = field(metadata=sent("text", "Always there."))
    zero: float | None = field(default=None, metadata=sent_if_known("number", "There, though it is 0."))
    word: str = field(default="", metadata=sent_if_known("text", "Not there while it is empty."))
    minutes: Minutes | None = field(default=None, metadata=sent("object", "Not there.", part=Minutes))
    inner: tuple[Minutes, ...] | None = field(default=None, metadata=sent("parts", "There.", part=Minutes))


def test_what_is_not_known_is_left_out_and_nothing_else():
    assert written(Some("x"), SPEAKER) == {"name": "x"}
    assert written(Some("x", 0.0, "w", Minutes(1.0, 2.0), ()), SPEAKER) == {
        "name": "x",
        "zero": 0.0,
        "word": "w",
        "minutes": {"low": 1.0, "high": 2.0},
        "inner": [],
    }


def test_numbers_stand_in_the_units_of_the_caller():
    """0 degC is 32 degF by definition of the scales; the width of 1 K is 1.8 degF wide."""
    freezing = written(Quantity(273.15, "temperature", 1.0), SPEAKER)
    assert freezing == {"value": 32.0, "unit": "degF", "uncertainty": 1.8}
    assert list(freezing) == ["value", "unit", "uncertainty"]


def test_the_numbers_of_a_rating_stand_beside_its_code():
    part = written(PartNeeded("part.contactor", (), RatedNumbers(amps=30.0, poles=2)), SPEAKER)
    assert list(part) == ["code", "title", "amps", "poles"]


def test_a_member_that_nobody_can_write_is_told_by_its_name():
    class Strange(Record):
        """A kind of requests alone."""

        ohms: float = field(metadata=sent("resistance", "Nobody answers with it."))

    class Silent(Record):
        """A saying that is not there."""

        title: ClassVar[str] = field(metadata=sent("text", "Its title.", said="titel"))

    with pytest.raises(ValueError, match=r"Strange\.ohms: no answer has the kind 'resistance'"):
        writer_of(Strange)
    with pytest.raises(ValueError, match=r"Silent\.title: no saying 'titel'"):
        writer_of(Silent)


def test_computed_members_that_cannot_be_written_stop_the_start():
    class Computed(Record):
        """Declared with a kind that no answer has."""

        reading: float | None = member("resistance", "Nobody answers with it.")

    with pytest.raises(ValueError, match=r"Computed\.reading"):
        answer_of("Wrong", Computed)


def test_every_answer_is_declared_in_the_order_in_which_it_is_written():
    body = written(Answer(computed=Some("x")), SPEAKER)
    assert next(iter(body)) == "computed"
    assert all(body[name] == [] for name in ("findings", "holds", "causes", "next_steps", "cautions"))
