"""Questions worth asking by phone, from data/questions: what answers each already, and how telling it is."""

from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code
from service.results.record import Record

SYMPTOMS = "/complaint/symptoms"


class QuestionRow(Record):
    """abnormal: chance of the telling answer under a cause; otherwise: under every other cause.

    symptoms, pointers: what in the document answers the question. safety: asked in any case.
    loading: decides what is loaded, not what is wrong. follows: symptoms after which alone it is asked. runs: the
    unit would have to run to answer it.
    """

    code: str
    symptoms: tuple[str, ...]
    pointers: tuple[str, ...]
    otherwise: float
    abnormal: dict[str, float]
    safety: bool
    loading: bool
    follows: tuple[str, ...] = ()
    runs: bool = False

    @property
    def pointer(self) -> str:
        """Where the answer goes: among the symptoms, or the member that its row names."""
        return SYMPTOMS if self.symptoms else self.pointers[0]

    def patch(self, said: object) -> tuple[dict[str, object], ...]:
        """The JSON Patch (RFC 6902) that puts an answer into the document; none where no is no symptom.

        said: True or False for a question about a symptom, else the value of the member; words of a list are added
        to it one by one.
        """
        if self.symptoms:
            return ({"op": "add", "path": f"{SYMPTOMS}/-", "value": self.symptoms[0]},) if said is True else ()
        if isinstance(said, tuple):
            return tuple({"op": "add", "path": f"{self.pointer}/-", "value": word} for word in said)
        return ({"op": "add", "path": self.pointer, "value": said},)


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
        follows=False,
        runs=False,
    )
    return {code: question_of(row) for code, row in found.items()}


def question_of(row: dict[str, Any]) -> QuestionRow:
    """A question from its row in the file. Raises: KnowledgeError for a chance outside 0 to 1."""
    abnormal = {cause: float(chance) for cause, chance in (row.get("telling") or {}).items()}
    otherwise = float(row["otherwise"])
    if not (row.get("symptoms") or row.get("pointers")):
        raise KnowledgeError(f"questions: {row['code']}: an answer needs a place in the document")
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
        tuple(row.get("follows") or ()),
        bool(row.get("runs")),
    )
