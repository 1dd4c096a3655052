"""What a row lacks, or says in a member that nobody asks for, stops the start with the row's file."""

import pytest

from service.words import completeness
from service.words.locale import texts

CODE, PLACE = "supply.voltage-low", "service/knowledge/topics/supply.yaml: supply.voltage-low: "


def with_finding(monkeypatch, change):
    """A finding that says something else."""
    own = {**texts("en", "findings")[CODE], **change}
    entry = {name: said for name, said in own.items() if said is not None}
    for name in ("texts", "row_texts"):
        asked = getattr(completeness, name)
        changed = lambda language, kind, asked=asked: (  # noqa: E731 - one of two alike
            {**asked(language, kind), CODE: entry} if kind == "findings" else asked(language, kind)
        )
        monkeypatch.setattr(completeness, name, changed)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"title": None}, "no title"),
        ({"detial": {"fail": "Low."}}, "detial is no text of findings"),
        ({"headlines": {"fail": "Low"}}, "headlines has no check"),
        ({"headlines": {"check": "Voltage", "fial": "Low"}}, "fial is no state of a finding"),
        ({"detail": {"pass": "Fine."}}, "detail has no text for fail"),
    ],
)
def test_a_wrong_text_is_told_with_its_row(monkeypatch, change, told):
    with_finding(monkeypatch, change)
    assert f"{PLACE}{told}" in list(completeness.missing_texts())


def test_a_row_without_a_text_is_told(monkeypatch):
    found = {code: entry for code, entry in texts("en", "findings").items() if code != CODE}
    monkeypatch.setattr(completeness, "texts", lambda *asked: found if asked[1] == "findings" else texts(*asked))
    assert f"{PLACE}no text" in list(completeness.missing_texts())


def test_the_rows_as_they_are_lack_nothing():
    assert list(completeness.missing_texts()) == []
