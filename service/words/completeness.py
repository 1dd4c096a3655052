"""Every code has its English text, in every state that its row names: checked before the server listens."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from service.knowledge import catalogues
from service.knowledge.readings import reading_rows
from service.knowledge.references import load_all as load_knowledge
from service.knowledge.rows import KnowledgeError
from service.words.locale import texts
from service.words.placeholders import wrong_placeholders

ENGLISH = "en"
LOCALES = "service/words/locales"
AGAIN = "Mend these texts, in es too, then: bash tests/run --fast words knowledge/test_references.py"


def load_all() -> None:
    """Read all knowledge and all texts.

    Raises: KnowledgeError that lists every row whose reference is unknown or whose English text is missing, and
    every text with a name in braces that nobody fills.
    """
    load_knowledge()
    wrong = [*missing_texts(), *wrong_placeholders()]
    if wrong:
        raise KnowledgeError("\n".join([*wrong, AGAIN]))


def missing_texts() -> Iterator[str]:
    """One line for each code or state without an English text."""
    catalogue: dict[str, Collection[str]] = {
        "findings": catalogues.findings(),
        "holds": catalogues.holds(),
        "causes": catalogues.causes(),
        "steps": catalogues.steps(),
        "parts": catalogues.parts(),
        "cautions": catalogues.cautions(),
        "readings": reading_rows(),
    }
    for folder, rows in catalogue.items():
        said = texts(ENGLISH, folder)
        yield from (f"{LOCALES}/{ENGLISH}/{folder}: {code} has no text" for code in rows if code not in said)
    yield from _missing_states()


def _missing_states() -> Iterator[str]:
    for code, row in catalogues.findings().items():
        entry = texts(ENGLISH, "findings").get(code)
        if entry is None:
            continue
        heads = texts(ENGLISH, "headlines").get(code, {})
        reported = {key.split(".")[0] for key in entry["detail"]} & {"fail", "review"}
        yield from (
            f"{LOCALES}/{ENGLISH}/headlines: {code} has no {state}" for state in {"check", *reported} - set(heads)
        )
        said = set(entry["detail"]) | {key.split(".")[0] for key in entry["detail"]}
        for state in {**row.raises, **row.steps, **row.cautions, **row.run, **row.instead}:
            if state.replace("/", ".") not in said:
                yield f"{LOCALES}/{ENGLISH}/findings: {code} has no text for {state}"
