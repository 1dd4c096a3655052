"""Questions worth asking by phone, from data/questions: what answers each already, and how telling it is."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code


@dataclass(frozen=True, slots=True)
class QuestionRow:
    """abnormal: chance of the telling answer under a cause; otherwise: under every other cause.

    symptoms, pointers: what in the document answers the question. safety: asked in any case.
    loading: decides what is loaded, not what is wrong.
    """

    code: str
    symptoms: tuple[str, ...]
    pointers: tuple[str, ...]
    otherwise: float
    abnormal: dict[str, float]
    safety: bool
    loading: bool


@cache
def question_rows() -> dict[str, QuestionRow]:
    """Every question by code. Raises: KnowledgeError for a chance outside 0 to 1."""
    found = by_code(
        "questions",
        otherwise=True,
        telling=False,
        since=True,
        symptoms=False,
        pointers=False,
        safety=False,
        loading=False,
    )
    return {code: question_of(row) for code, row in found.items()}


def question_of(row: dict[str, Any]) -> QuestionRow:
    """A question from its row in the file. Raises: KnowledgeError for a chance outside 0 to 1."""
    abnormal = {cause: float(chance) for cause, chance in (row.get("telling") or {}).items()}
    otherwise = float(row["otherwise"])
    if not all(0.0 < chance < 1.0 for chance in (otherwise, *abnormal.values())):
        raise KnowledgeError(f"questions: {row['code']}: a chance must lie between 0 and 1")
    return QuestionRow(
        row["code"],
        tuple(row.get("symptoms") or ()),
        tuple(row.get("pointers") or ()),
        otherwise,
        abnormal,
        bool(row.get("safety")),
        bool(row.get("loading")),
    )
