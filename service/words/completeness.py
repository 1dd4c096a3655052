"""Every code has its English text, in every state that its row names: checked before the server listens."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from service.knowledge import catalogues
from service.knowledge.languages import ENGLISH
from service.knowledge.readings import reading_rows
from service.knowledge.references import load_all as load_knowledge
from service.knowledge.row_files import file_of
from service.knowledge.yaml_files import KnowledgeError
from service.words.locale import texts
from service.words.placeholders import wrong_placeholders

REPORTED = {"fail", "review"}
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
        yield from (f"{file_of(code)}: {code} has no text" for code in rows if code not in said)
    yield from _missing_states()


def _missing_states() -> Iterator[str]:
    for code, row in catalogues.findings().items():
        entry = texts(ENGLISH, "findings").get(code)
        if entry is not None:
            yield from (f"{file_of(code)}: {code}: {said}" for said in _untold(row, entry))


def _untold(row: catalogues.FindingRow, entry: Mapping[str, Any]) -> Iterator[str]:
    """What its texts lack: the title, a headline of a state that it reports, a state that its row names."""
    detail, heads = entry.get("detail", {}), entry.get("headlines", {})
    states = {key.split(".")[0] for key in detail}
    if "title" not in entry:
        yield "no title"
    yield from (f"headlines has no {state}" for state in {"check", *(states & REPORTED)} - set(heads))
    named = {**row.raises, **row.steps, **row.cautions, **row.run, **row.instead}
    untold = {state.replace("/", ".") for state in named} - set(detail) - states
    yield from (f"detail has no text for {state}" for state in sorted(untold))
