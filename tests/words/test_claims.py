"""A claim is a row: every text that tells a duty, a law or a standard names the rules it rests on."""

import re

import pytest

from service.knowledge.claims import claims, told_in
from service.knowledge.rows import KnowledgeError
from service.knowledge.rule_book import book
from service.words.locale import texts

FOLDERS = (
    "assumptions",
    "cautions",
    "findings",
    "holds",
    "list_words",
    "missing",
    "questions",
    "readings",
    "report",
    "sentences",
    "steps",
)
STANDARDS = {
    "NFPA": "NFPA",
    "UL": "UL",
    "IEC": "IEC",
    "ASHRAE": "ASHRAE",
    "CFR": "CFR",
    "NEC": "NEC",
    "ACCA": "ACCA",
    "AHRI": "AHRI",
    "IEEE": "IEEE",
    "NEMA": "NEMA",
    "ASTM": "ASTM",
    "Section 608": "CFR 82.161",
    "EPA": "CFR",
}
LAW = r"laws?|legal|illegal|prohibited|certificat\w+|certified|licen[sc]e\w*|Regulation|standard asks|the rule"
DUTY = re.compile(rf"\b(must|OSHA|DOT|CEC|{LAW}|{'|'.join(STANDARDS)})\b")
ONLY_PRACTICE = re.compile(rf"\b({LAW}|OSHA|DOT|CEC|{'|'.join(STANDARDS)})\b")
# Neither tells the reader of a law: what a rating stamped on a part is called, and whose practice goes first.
PLAIN = {"assumptions/insulation.rated-volts", "cautions/caution.local-codes"}


def said(entry):
    if isinstance(entry, str):
        yield entry
    elif isinstance(entry, dict):
        for inner in entry.values():
            yield from said(inner)
    elif isinstance(entry, list):
        for inner in entry:
            yield from said(inner)


def all_texts():
    for folder in FOLDERS:
        for code, entry in texts("en", folder).items():
            yield f"{folder}/{code}", " ".join(said(entry))


TEXTS = dict(all_texts())
TELLING = {code: text for code, text in TEXTS.items() if DUTY.search(text)}


def test_there_is_something_to_hold():
    assert len(TELLING) > 20


@pytest.mark.parametrize("code", TELLING)
def test_every_text_with_a_duty_has_its_row(code):
    """Add a row under `claims:` of its topic (else data/claims) with the rule that says so, or tell no duty."""
    assert code in claims(), f"{code} tells of {DUTY.findall(TELLING[code])}: {TELLING[code]}"


@pytest.mark.parametrize("code", TELLING)
def test_a_standard_that_is_named_is_among_its_rules(code):
    resting = " ".join(book().rules[rule].title for rule in claims()[code].rests_on if rule in book().rules)
    for name in set(DUTY.findall(TELLING[code])) & set(STANDARDS):
        assert STANDARDS[name] in resting, f"{code} names {name} and rests on {resting!r}"


@pytest.mark.parametrize("code", sorted(code for code, claim in claims().items() if not claim.rests_on))
def test_plain_practice_tells_of_no_law(code):
    assert code in PLAIN or not ONLY_PRACTICE.search(TEXTS[code]), TEXTS[code]


def test_no_row_is_left_over():
    assert set(claims()) - set(TEXTS) == set()


def test_the_rules_know_their_texts():
    assert "findings/leak-rate.duty" in told_in()["us.leak-rate.hydrofluorocarbon"]


def test_a_claim_on_nothing_is_refused(monkeypatch):
    from service.knowledge import claims as module

    for row in ({"code": "steps/x"}, {"code": "steps/x", "rests_on": ["us.nothing"]}):
        monkeypatch.setattr(module, "by_code", lambda *_, _row=row, **__: {_row["code"]: _row})
        module.claims.cache_clear()
        with pytest.raises(KnowledgeError):
            module.claims()
    module.claims.cache_clear()
