"""Every language says everything: each code of the catalogues, each state and variant, each placeholder."""

import string
from importlib import resources

import pytest

from service.knowledge import catalogues
from service.knowledge.questions import question_rows
from service.knowledge.readings import reading_rows
from service.words.locale import LANGUAGES, folders, place, texts
from tests.guard import nothing_found

PLACE = "service/words/locales"
ROOT = resources.files("service.words") / "locales"
FOLDERS = folders()
OTHERS = [language for language in LANGUAGES if language != "en"]


def flat(entry, path=()):
    """(path, text) of every text below an entry."""
    if isinstance(entry, dict):
        for key, value in entry.items():
            yield from flat(value, (*path, key))
    else:
        yield path, entry


def named(language, folder, paths):
    """Places as a reader finds them."""
    return [f"{place(language, folder, path[0])}: {' '.join(path)} ({language})" for path in paths]


def placeholders(template):
    return sorted(name for _, name, _, _ in string.Formatter().parse(template) if name is not None)


def all_texts(language, folder):
    return dict(flat(texts(language, folder)))


def test_the_languages_have_the_same_folders_and_files():
    def files(language):
        root = ROOT / language
        return sorted(f"{folder.name}/{file.name}" for folder in root.iterdir() for file in folder.iterdir())

    for language in OTHERS:
        unlike = sorted(set(files(language)) ^ set(files("en")))
        nothing_found(unlike, f"a file of {PLACE}/en and one of {PLACE}/{language} go together", "words")


@pytest.mark.parametrize("folder", FOLDERS)
@pytest.mark.parametrize("language", OTHERS)
def test_every_text_is_there_in_every_language(language, folder):
    english, other = all_texts("en", folder), all_texts(language, folder)
    untold = sorted(set(english) ^ set(other))
    nothing_found(named(language, folder, untold), f"write the text in en and in {language}", "words")


@pytest.mark.parametrize("folder", FOLDERS)
@pytest.mark.parametrize("language", OTHERS)
def test_every_text_has_the_same_placeholders(language, folder):
    english, other = all_texts("en", folder), all_texts(language, folder)
    unlike = {
        path: (placeholders(english[path]), placeholders(text))
        for path, text in other.items()
        if path in english and set(placeholders(english[path])) != set(placeholders(text))
    }
    lines = [f"{line}: {unlike[path]}" for path, line in zip(unlike, named(language, folder, unlike), strict=True)]
    nothing_found(lines, "use the same {placeholders} in both languages (English first)", "words")


@pytest.mark.parametrize("folder", FOLDERS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_is_empty_or_untrimmed(language, folder):
    for path, text in flat(texts(language, folder)):
        assert isinstance(text, str), path
        assert text, path
        assert text == text.strip(), path


@pytest.mark.parametrize("folder", FOLDERS)
@pytest.mark.parametrize("language", OTHERS)
def test_nothing_is_left_in_english(language, folder):
    """A sentence of three words and more is never the same in two languages."""
    english, other = all_texts("en", folder), all_texts(language, folder)
    left = [
        path
        for path, text in other.items()
        if english.get(path) == text and len([word for word in text.split() if word.isalpha()]) >= 3
    ]
    nothing_found(named(language, folder, left), "write it in this language", "words")


CATALOGUES = {
    "findings": catalogues.findings,
    "causes": catalogues.causes,
    "holds": catalogues.holds,
    "cautions": catalogues.cautions,
    "steps": catalogues.steps,
    "questions": question_rows,
    "readings": reading_rows,
}


@pytest.mark.parametrize("folder", CATALOGUES)
@pytest.mark.parametrize("language", LANGUAGES)
def test_every_code_of_the_catalogues_has_a_text(language, folder):
    untold = sorted(set(CATALOGUES[folder]()) - set(texts(language, folder)))
    lines = named(language, folder, [(code,) for code in untold])
    nothing_found(lines, f"write the text of each code in {language}", "words")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_part_tool_and_rating_has_a_text(language):
    steps, causes = catalogues.steps().values(), catalogues.causes().values()
    parts = {code for row in (*steps, *causes) for code in row.parts}
    tools = {code for row in steps for code in row.tools}
    assert sorted(parts - set(texts(language, "parts"))) == []
    assert sorted(tools - set(texts(language, "tools"))) == []
    stocked = {
        f"rating.stock-{code.removeprefix('part.')}" for code, row in catalogues.parts().items() if row.stocked
    }
    assert sorted(stocked - set(texts(language, "ratings"))) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_certificate_of_a_step_has_a_name_on_the_job_note(language):
    wanted = {f"certificate.{code}" for row in catalogues.steps().values() for code in row.certificates}
    assert sorted(wanted - set(texts(language, "report"))) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_findings_say_every_state_that_raises_or_asks_for_something(language):
    """A state that the catalogue ties a hold, a step or a caution to is a state the check can report."""
    missing = []
    for code, row in catalogues.findings().items():
        said = set(texts(language, "findings")[code]["detail"])
        said |= {key.split(".")[0] for key in said}
        named = {**row.raises, **row.steps, **row.cautions, **row.run}
        missing += [(code, state) for state in named if state.replace("/", ".") not in said]
    assert missing == []
