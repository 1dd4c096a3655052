"""A list that changes only with the version is made once in each language, and again in another edition."""

import pytest

from service.app import create_app
from service.results.declare import sent
from service.results.record import Record, field
from service.wire import listing


class Said(Record):
    """A list of one member."""

    language: str = field(metadata=sent("text", "What it was made in."))


@pytest.fixture
def made(monkeypatch):
    """The languages that a list was made in, and what makes it."""
    asked = []

    def make(language):
        asked.append(language)
        return Said(language)

    monkeypatch.setattr(listing, "edition", lambda: "one")
    with create_app().test_request_context():
        yield asked, make


def test_it_is_made_once_in_each_language_and_edition(monkeypatch, made):
    asked, make = made
    spanish = listing.listed(make, "es")
    assert (spanish.get_json(), spanish.headers["Content-Language"]) == ({"language": "es"}, "es")
    assert listing.listed(make, "es").get_data() == spanish.get_data()
    assert "Content-Language" not in listing.listed(make).headers
    assert asked == ["es", "en"]
    monkeypatch.setattr(listing, "edition", lambda: "another")
    listing.listed(make, "es")
    assert asked == ["es", "en", "es"]
