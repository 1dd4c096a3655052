"""Texts for customers read at grade seven or below.

Grade: Flesch-Kincaid (Kincaid et al. 1975, Naval Technical Training Command, report 8-75), .39 words a sentence
+ 11.8 syllables a word - 15.59. Syllables are counted as groups of vowels without a silent e, a rough count.
"""

import re

from service.knowledge.catalogues import causes
from service.words.locale import LANGUAGES, texts

HIGHEST = 7.0
FOR_CUSTOMERS = ("customer.", "advice.", "watch.", "urgency.")


def syllables(word: str) -> int:
    """Vowel groups of an English word, at least one; a final e alone is silent."""
    bare = re.sub(r"[^a-z]", "", word.lower())
    return max(1, len(re.findall(r"[aeiouy]+", re.sub(r"(?<=[^l])e$", "", bare))))


def grade(text: str) -> float:
    """Flesch-Kincaid grade of a text."""
    words = re.findall(r"[A-Za-z']+", text)
    sentences = max(1, len(re.findall(r"[.!?:](?:\s|$)", text)))
    return 0.39 * len(words) / sentences + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


def test_the_formula_gives_the_grade_worked_by_hand():
    """Six words, six syllables, one sentence: 0.39 x 6 + 11.8 - 15.59 = -1.45."""
    assert abs(grade("The cat sat on the mat.") + 1.45) < 1e-9


def test_texts_for_customers_are_plain():
    """The whole of what customers are told, kind by kind; a single short line says too little of a grade."""
    sentences = texts("en", "sentences")
    for kind in FOR_CUSTOMERS:
        told = " ".join(text for code, text in sorted(sentences.items()) if code.startswith(kind))
        assert grade(told) <= HIGHEST, (kind, grade(told))


def in_plain_words(language):
    return {code: entry["plain"] for code, entry in texts(language, "causes").items() if "plain" in entry}


def test_causes_in_plain_words_are_plain():
    """As a customer reads them: at the end of the sentence that names what was found."""
    found = texts("en", "sentences")["customer.found"]
    told = " ".join(found.format(plain=plain) for plain in in_plain_words("en").values())
    assert grade(told) <= HIGHEST, grade(told)


def test_every_cause_has_its_plain_words():
    for language in LANGUAGES:
        assert set(in_plain_words(language)) == set(causes()) - {"cause.none-found"}


def test_questions_to_customers_are_plain():
    told = " ".join(entry["text"] for entry in texts("en", "questions").values())
    assert grade(told) <= HIGHEST
