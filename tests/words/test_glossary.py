"""One name a thing, in the words of the trade; short sentences; a way to be corrected by a native speaker."""

import re

import pytest

from service.knowledge.rule_book import book
from service.wire.pages.guide_headings import HEADINGS
from service.words.locale import LANGUAGES
from service.words.members import _labels
from tests.guard import nothing_found
from tests.words.glossary import flat, forbidden, glossary, rows, sentences, to_confirm, where

LONGEST = {"en": 20, "es": 28}  # words a sentence; Spanish needs about a third more for the same
LONGEST_DETAIL = 60  # words of a finding's text or a caution's; what is longer belongs to a step
SHORTER = f"at most {LONGEST} words a sentence, {LONGEST_DETAIL} a finding or caution: say it shorter or in a step"
ORDER = re.compile(r"^(Do not|Keep|Shut|Stop|Leave|Never|Treat|Open)\b")
STOPS = ("Do not energize", "Do not add refrigerant", "Shut it off", "Keep the power off", "Keep hands out")


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_uses_a_forbidden_word(language):
    found = [(name, *hit, text) for name, text in rows(language) for hit in forbidden(language, text)]
    lines = [f"{where(language, name)}: {said}" for name, *said in found]
    nothing_found(lines, "use the term of service/words/glossary.yaml", "words/test_glossary.py")


def test_spanish_of_members_rules_and_the_guide_uses_the_terms_too():
    """What is no row of the locales; a rule may name a circuit, a certificate or a filling as its law does."""
    of_the_law = {"system", "Section 608 certification", "top off"}
    texts = [(name, text) for name, text in flat(_labels("es"))]
    texts += [(("rules", code), rule.says["es"]) for code, rule in book().rules.items()]
    texts += [(("guide", name), text) for name, text in HEADINGS["es"].items()]
    found = [
        f"{' '.join(name)}: {term}: {word}: {text}"
        for name, text in texts
        for term, word in forbidden("es", text)
        if term not in of_the_law
    ]
    nothing_found(found, "use the term of service/words/glossary.yaml", "words/test_glossary.py")


@pytest.mark.parametrize(
    ("language", "text", "term"),
    [
        ("en", "The unit is short of refrigerant.", "low refrigerant charge"),
        ("en", "Prove dead, then read again.", "lock out, live source, power off"),
        ("en", "Check for a dead short, live-dead-live.", None),
        ("en", "Supply air is warm.", None),
        ("en", "The supply is low.", "line voltage"),
        ("es", "Poco aire en el serpentín.", "low airflow"),
        ("es", "La fuente viva.", "lock out, live source, power off"),
        ("es", "Circuito ramal.", None),
        ("es", "Sin energía verificada: mida.", "lock out, live source, power off"),
        ("es", "Cargue: {refrigerant}.", "load a part on the truck"),
        ("es", "Cargue las mezclas en líquido.", None),
        ("es", "Presostato de alta abierto", "pressure switch"),
        ("es", 'Una resistencia es {"ohms": número}.', None),
    ],
)
def test_a_word_is_forbidden_in_a_sense_not_as_a_string(language, text, term):
    found = {name for name, _ in forbidden(language, text)}
    assert found == set() if term is None else term in found


def test_every_term_is_there_in_both_languages_and_once():
    names = [row["term"] for row in glossary()]
    assert len(names) == len(set(names))
    for row in glossary():
        assert row["english"], row
        assert row["spanish"], row
        assert ("confirm" in row) == ("usado" in row), row


def test_no_exception_of_the_glossary_is_dead():
    """An exception without a forbidden word in it exempts nothing."""
    for row in glossary():
        assert bool(row.get("except")) <= bool(row.get("never")), row
        assert bool(row.get("excepto")) <= bool(row.get("nunca")), row


@pytest.mark.parametrize("language", LANGUAGES)
def test_sentences_are_short(language):
    long = [
        (name, sentence)
        for name, text in rows(language)
        for sentence in sentences(text)
        if len(sentence.split()) > LONGEST[language]
    ]
    lines = [f"{where(language, name)}: {said}" for name, said in long]
    nothing_found(lines, SHORTER, "words/test_glossary.py")


@pytest.mark.parametrize("language", LANGUAGES)
def test_findings_and_cautions_are_short(language):
    long = [
        (name, len(text.split()))
        for name, text in rows(language)
        if name.startswith(("findings/", "cautions/")) and len(text.split()) > LONGEST_DETAIL
    ]
    lines = [f"{where(language, name)}: {said}" for name, said in long]
    nothing_found(lines, SHORTER, "words/test_glossary.py")


def test_a_stop_order_comes_before_everything_else():
    late = [
        (name, text)
        for name, text in rows("en")
        if name.startswith("findings/")
        for stop in STOPS
        if text.find(stop) > 0 and not ORDER.match(text)
    ]
    lines = [f"{where('en', name)}: {said}" for name, said in late]
    nothing_found(lines, "put the order to stop first", "words/test_glossary.py")


def test_what_a_native_speaker_should_confirm_can_be_listed():
    names = {name for name, _, _ in to_confirm()}
    assert any(name.startswith("findings/insulation.winding-grounded") for name in names)
    assert names
