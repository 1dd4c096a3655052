"""A name in braces that nobody fills stops the start with its place, and is no 500 in a request."""

import re

import pytest

from service.knowledge.rows import KnowledgeError
from service.words import completeness, placeholders
from service.words.locale import texts
from service.words.placeholders import wrong_placeholders


def with_text(monkeypatch, template, language="es"):
    """A text of one language in the place of what a finding says of a failure."""

    def changed(asked, folder):
        found = texts(asked, folder)
        if (asked, folder) != (language, "findings"):
            return found
        own = found["supply.voltage-low"]
        return {**found, "supply.voltage-low": {**own, "detail": {**own["detail"], "fail": template}}}

    monkeypatch.setattr(placeholders, "texts", changed)


@pytest.mark.parametrize(
    ("template", "told"),
    [
        ("{mesured} bajo {low}", "nothing fills {mesured}; was {measured} meant?"),
        ("{measured} bajo {low", "expected '}' before end of string"),
        ("{measured:.1f} bajo {low}", "a name in braces stands for itself alone"),
        ("{measured} bajo", "its names ['measured'] are not those of the English text"),
    ],
)
def test_a_wrong_name_stops_the_start(monkeypatch, template, told):
    with_text(monkeypatch, template)
    with pytest.raises(KnowledgeError, match=re.escape(told)) as caught:
        completeness.load_all()
    assert "service/knowledge/topics/supply.yaml: supply.voltage-low detail fail (es): " in str(caught.value)


def test_the_texts_as_they_are_have_no_wrong_name():
    assert list(wrong_placeholders()) == []
