"""Kinds of unit are rows: the words of the contract, what they mean and what holds for each.

Source of what a kind is: 10 CFR 430.2 (room air conditioner), 10 CFR 431.92 (packaged terminal, single package
vertical), from memory; the rest common practice, no source.
"""

import ast
from pathlib import Path

import pytest

import service
from service.knowledge import kinds, references
from service.knowledge.kinds import KindRow, kind_row, kind_rows
from service.knowledge.yaml_files import KnowledgeError
from service.results.declare import declared_members
from service.results.record import replace
from service.results.visit.equipment import Equipment
from service.results.visit.kinds import KINDS
from service.words.locale import LANGUAGES, meanings
from service.workshop.specification import kind_words

ROOT = Path(service.__file__).parent


def test_the_words_of_the_contract_are_the_rows():
    assert kind_words.FILE.read_text("utf-8") == kind_words.words_text(), "run python -m service spec"
    assert dict(declared_members(Equipment))["kind"].choices == tuple(kind_rows())
    kinds.require_known_kinds()


def test_a_row_that_the_contract_does_not_name_stops_the_start(monkeypatch):
    monkeypatch.setattr(kinds, "KINDS", KINDS[1:])
    with pytest.raises(KnowledgeError, match=rf"kinds\.py: {KINDS[0]}.*`python -m service spec`"):
        kinds.require_known_kinds()


def test_writing_the_words_says_whether_they_are_new(monkeypatch, tmp_path):
    monkeypatch.setattr(kind_words, "FILE", tmp_path / "kinds.py")
    kind_words.FILE.write_text("", encoding="utf-8")
    assert [kind_words.write_words(), kind_words.write_words()] == [True, False]


def test_no_code_names_a_kind():
    """What holds for a kind stands in its row: a name of one in Python would be a second place."""
    named = [
        f"{path.relative_to(ROOT)}:{node.lineno}: {node.value}"
        for path in sorted(ROOT.rglob("*.py"))
        if path != kind_words.FILE
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and node.value in KINDS
    ]
    assert named == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_kind_says_what_it_is(language):
    said = meanings(language, "kind")
    assert all(said.get(kind) for kind in KINDS)
    assert len({said[kind] for kind in KINDS}) == len(KINDS)


@pytest.mark.parametrize(
    "wrong",
    [
        {"circumstances": ("cools",)},
        {"stands_as": "packaged"},
        {"lacks": ("/running/suction",)},
        {"lacks_parts": ("part.contacter",)},
        {"cautions": ("caution.cord",)},
    ],
)
def test_a_row_that_names_what_there_is_not_is_refused(monkeypatch, wrong):
    changed = {code: replace(row, **wrong) for code, row in kind_rows().items()}
    monkeypatch.setattr(references, "kind_rows", lambda: changed)
    (name,) = wrong
    with pytest.raises(KnowledgeError, match=f"{KINDS[0]}: {name}"):
        references.load_all()


def test_of_a_kind_that_is_not_stated_nothing_is_taken_for_true():
    row = kind_row(None)
    taken = [name for name in KindRow.__slots__ if getattr(row, name) and name != "basis"]
    assert taken == []
    assert row.has_reading("/running/suction_pressure")
