"""Every code has its English text, in every state that its row names: checked before the server listens."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from service.knowledge import catalogues
from service.knowledge.exclusions import states
from service.knowledge.kinds import kind_rows
from service.knowledge.languages import ENGLISH
from service.knowledge.questions import question_rows
from service.knowledge.readings import reading_rows
from service.knowledge.references import load_all as load_knowledge
from service.knowledge.row_files import file_of
from service.knowledge.row_texts import row_texts, telling_kinds
from service.knowledge.taking import taking_rows
from service.knowledge.yaml_files import KnowledgeError
from service.results.finding import State
from service.words.locale import LOCALES, texts
from service.words.placeholders import wrong_placeholders
from service.words.say import IN_HEATING

REPORTED, STATES = {"fail", "review"}, {str(state) for state in State}
AGAIN = "Mend these texts, in es too, then: bash tests/run --fast words knowledge/test_references.py"
MEMBERS: dict[str, tuple[set[str], set[str]]] = {
    "findings": ({"title", "headlines", "detail"}, {"value"}),
    "holds": ({"title", "instruction", "clears_when"}, set()),
    "causes": ({"title"}, {"plain"}),
    "steps": ({"title", "text"}, set()),
    "questions": ({"text", "why"}, set()),
    "readings": ({"title", "why"}, set()),
    "problems": ({"title", "detail"}, set()),
    "symptoms": ({"title"}, set()),
    "kinds": ({"title", "plain"}, set()),
}
"""What the rows of a kind say: always, and where they have it. Any other kind says one text."""


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
    """One line for each code, member or state without an English text, and for each text that nobody asks for."""
    catalogue: dict[str, Collection[str]] = {
        "findings": catalogues.findings(),
        "holds": catalogues.holds(),
        "causes": catalogues.causes(),
        "steps": catalogues.steps(),
        "parts": catalogues.parts(),
        "cautions": catalogues.cautions(),
        "questions": question_rows(),
        "readings": reading_rows(),
        "symptoms": catalogues.symptoms(),
        "taking": taking_rows(),
        "kinds": kind_rows(),
        "states": states(),
    }
    for kind, rows in catalogue.items():
        said = texts(ENGLISH, kind)
        yield from (f"{file_of(code)}: {code}: no text" for code in rows if code not in said)
    for kind in telling_kinds():
        for code, entry in row_texts(ENGLISH, kind).items():
            yield from (f"{file_of(code)}: {code}: {wrong}" for wrong in _wrong_members(kind, entry))
    of_kinds = {folder for kind in kind_rows().values() for folder in kind.said_in}
    for otherwise in sorted({IN_HEATING, *of_kinds}):
        yield from _strange_otherwise(otherwise)
    for code, row in catalogues.findings().items():
        entry = texts(ENGLISH, "findings").get(code, {})
        yield from (f"{file_of(code)}: {code}: {wrong}" for wrong in _wrong_states(row, entry))


def _strange_otherwise(otherwise: str) -> Iterator[str]:
    """A text of some units that stands in for none; a folder that is named and says nothing."""
    if not texts(ENGLISH, otherwise):
        yield f"{LOCALES}/{ENGLISH}/{otherwise}: named by a kind of unit, and there is no text"
    for where in texts(ENGLISH, otherwise):
        folder, code, *members = where.split("/")
        said: Any = texts(ENGLISH, folder).get(code)
        for name in members:
            said = said.get(name) if isinstance(said, dict) else None
        if not isinstance(said, str):
            yield f"{LOCALES}/{ENGLISH}/{otherwise}: {where}: there is no such text"


def _wrong_members(kind: str, entry: Any) -> Iterator[str]:
    always, perhaps = MEMBERS.get(kind, (set(), set()))
    held = set(entry) if isinstance(entry, dict) else set()
    yield from (f"no {name}" for name in sorted(always - held))
    yield from (f"{name} is no text of {kind}" for name in sorted(held - always - perhaps))


def _wrong_states(row: catalogues.FindingRow, entry: Mapping[str, Any]) -> Iterator[str]:
    """A headline of a state that it reports, or a state that its row names, without text; a state that is none."""
    detail, heads = entry.get("detail", {}), entry.get("headlines", {})
    states = {key.split(".")[0] for key in detail}
    yield from (f"headlines has no {state}" for state in sorted({"check", *(states & REPORTED)} - set(heads)))
    yield from (f"{state} is no state of a finding" for state in sorted({*states, *heads} - {"check", *STATES}))
    named = {**row.raises, **row.steps, **row.cautions, **row.run, **row.instead}
    untold = {state.replace("/", ".") for state in named} - set(detail) - states
    yield from (f"detail has no text for {state}" for state in sorted(untold))
