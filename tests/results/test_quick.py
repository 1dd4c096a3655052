"""Dataclasses that are made fast behave as the frozen dataclasses they are declared to be."""

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace

import pytest

from service.results.finding import Bounds, Finding, Severity, State
from service.results.quick import quick
from service.results.visit import Visit


@dataclass(frozen=True, slots=True)
class Plain:
    value: float
    shares: dict = field(default_factory=dict)
    name: str = "one"
    kept: list = field(default_factory=list, init=False, compare=False)


@quick
@dataclass(frozen=True, slots=True)
class Quick:
    value: float
    shares: dict = field(default_factory=dict)
    name: str = "one"
    kept: list = field(default_factory=list, init=False, compare=False)


def test_it_has_the_members_of_the_same_dataclass_made_plainly():
    for given in ((1.0,), (1.0, {"a": 2.0}), (1.0, {}, "two")):
        plain, made = Plain(*given), Quick(*given)
        assert [getattr(made, item.name) for item in fields(made)] == [
            getattr(plain, item.name) for item in fields(plain)
        ]
        assert repr(made) == repr(plain).replace("Plain", "Quick")
    assert Quick(value=1.0, name="two") == Quick(1.0, {}, "two") != Quick(1.0)


def test_factories_make_anew_for_each():
    assert Quick(1.0).shares is not Quick(1.0).shares
    assert Quick(1.0).kept is not Quick(1.0).kept


@pytest.mark.parametrize("wrong", [{}, {"value": 1.0, "other": 2}, {"value": 1.0, "kept": []}])
def test_wrong_members_are_refused_as_by_any_dataclass(wrong):
    with pytest.raises(TypeError):
        Plain(**wrong)
    with pytest.raises(TypeError):
        Quick(**wrong)


@pytest.mark.parametrize("instance", [Quick(1.0), Visit(), Bounds("volts", "table", "x", 1.0)])
def test_it_is_frozen_and_of_its_own_class(instance):
    name = fields(instance)[0].name
    with pytest.raises(FrozenInstanceError):
        setattr(instance, name, 2.0)
    with pytest.raises(FrozenInstanceError):
        delattr(instance, name)
    assert type(instance) is instance.__class__
    assert not hasattr(instance, "__dict__")


def test_it_is_copied_pickled_replaced_and_hashed():
    finding = Finding("a.b", State.PASS, Severity.INFO, ("/a",), limit=Bounds("volts", "table", "x", 1.0))
    assert pickle.loads(pickle.dumps(finding)) == copy.deepcopy(finding) == copy.copy(finding) == finding
    assert replace(finding, state=State.FAIL).state is State.FAIL
    assert hash(finding.limit) == hash(replace(finding.limit))


def test_what_is_not_foreseen_is_refused():
    with pytest.raises(TypeError):

        @quick
        @dataclass(frozen=True, slots=True)
        class Inheriting(Plain):
            more: int = 0

    with pytest.raises(TypeError):

        class Derived(Quick):
            pass
