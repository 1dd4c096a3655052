"""A topic is one file: its limits, its findings and what they say in every language, side by side."""

from pathlib import Path

import pytest
import yaml

from service.knowledge import row_files, row_texts
from service.knowledge.yaml_files import KnowledgeError, read_yaml
from tests.guard import nothing_found

TOPICS = Path(row_files.__file__).parent / "topics"
ROOMS = (TOPICS, TOPICS.parent / "data", TOPICS.parents[1] / "words" / "locales")
FILES = sorted(file for room in ROOMS for file in room.rglob("*.yaml"))
SHARED = {"procedures": {"evacuation", "leak_rate", "pressure_test", "procedures", "recovery", "weighed_charge"}}
"""First words of codes whose rows stand in more than one topic."""


@pytest.mark.parametrize("file", sorted(TOPICS.glob("*.yaml")), ids=lambda file: file.name)
def test_a_row_stands_in_the_file_of_its_topic(file):
    content = yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader)
    codes = [row["code"] for section in ("limits", "findings") for row in content.get(section, ())]
    first = {code: code.split(".")[0].replace("-", "_") for code in codes}
    strange = [f"{file}: {code}" for code in codes if file.stem not in SHARED.get(first[code], {first[code]})]
    nothing_found(strange, "a row stands in the topic that its code's first word names", "knowledge/test_rows.py")


@pytest.mark.parametrize("wrong", [{"findigs": []}, []])
def test_a_topic_has_no_other_section(monkeypatch, wrong):
    monkeypatch.setattr(row_files, "_content", lambda *_: wrong)
    with pytest.raises(
        KnowledgeError, match=r"service/knowledge/topics/\w+\.yaml: a topic has the sections limits, "
    ):
        row_files._topics.__wrapped__()


def as_written(monkeypatch, *content):
    monkeypatch.setattr(row_texts, "rows_as_written", lambda _kind: content)


TOLD = {
    "code": "a.b",
    "steps": {"fail": ["step.a"]},
    "title": {"en": "Valve", "es": "Válvula"},
    "detail": {"fail": {"en": "Open.", "es": "Abierta."}, "pass": {"en": "Closed."}},
}


def test_what_a_row_says_is_told_by_language_and_kept_from_what_it_means(monkeypatch):
    as_written(monkeypatch, TOLD, {"code": "a.c", "en": "Text.", "es": "Texto."}, {"code": "a.d", "steps": {}})
    said = row_texts.row_texts.__wrapped__
    assert said("en", "x") == {
        "a.b": {"title": "Valve", "detail": {"fail": "Open.", "pass": "Closed."}},
        "a.c": "Text.",
    }
    assert said("es", "x") == {"a.b": {"title": "Válvula", "detail": {"fail": "Abierta."}}, "a.c": "Texto."}
    assert row_texts.without_texts(TOLD) == {"code": "a.b", "steps": {"fail": ["step.a"]}}
    assert row_texts.without_texts({"code": "a.c", "en": "Text.", "es": "Texto."}) == {"code": "a.c"}


@pytest.mark.parametrize(
    ("content", "told"),
    [
        ([TOLD, TOLD], "given twice"),
        ([{"code": "a.b", "title": {"en": "Valve", "sp": "Válvula"}}], r"a\.b: \['sp'\] beside"),
    ],
)
def test_a_text_given_twice_or_in_no_language_is_refused(monkeypatch, content, told):
    as_written(monkeypatch, *content)
    with pytest.raises(KnowledgeError, match=told):
        row_texts.row_texts.__wrapped__("en", "x")


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("- {code: a, since: x}\n- code: b\n  steps: {}\n  steps: {}\n", "'steps' is given twice.*line 4"),
        ("- {code: a", "expected"),
        ("- *one\n", "nothing is named 'one'"),
    ],
)
def test_a_broken_file_or_a_member_given_twice_is_refused_by_file_and_line(written, told):
    with pytest.raises(KnowledgeError, match=f"(?s)^x.yaml: .*{told}"):
        read_yaml(written.encode(), "x.yaml")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_a_file_is_read_as_the_library_reads_it(file):
    content = file.read_bytes()
    assert read_yaml(content, file.name) == yaml.load(content, Loader=yaml.CSafeLoader)
