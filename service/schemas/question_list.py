"""The list of questions as a call script needs it: where each answer goes, its kind, and its patches."""

from typing import Any

from service.knowledge.questions import QuestionRow, question_rows
from service.schemas.reading_list import reading_list

YES_NO = "yes_no"
Body = dict[str, Any]


def question_answers(language: str) -> dict[str, Body]:
    """pointer, answer (kind) and answers of every question, by its code."""
    rows = {row["pointer"]: row for row in reading_list(language)}
    return {code: _of(row, rows[row.pointer]) for code, row in question_rows().items()}


def _of(row: QuestionRow, reading: Body) -> Body:
    kind = YES_NO if row.symptoms else reading["answer"]
    return {"pointer": row.pointer, "answer": kind, "answers": _answers(row, kind, reading)}


def _answers(row: QuestionRow, kind: str, reading: Body) -> list[Body]:
    if kind == YES_NO:
        return [{"said": word, "patches": list(row.patch(word == "yes"))} for word in ("yes", "no")]
    return [
        {
            "said": word["word"],
            "title": word["title"],
            "patches": list(row.patch((word["word"],) if kind == "choices" else word["word"])),
        }
        for word in reading.get("words", ())
    ]
