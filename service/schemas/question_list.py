"""The list of questions as a call script needs it: where each answer goes, its kind, and its patches."""

from __future__ import annotations

from service.knowledge.questions import QuestionRow, question_rows
from service.schemas.lists import readings as declared
from service.schemas.reading_list import reading_list
from service.words.locale import text

YES_NO = "yes_no"


def question_list(language: str) -> tuple[declared.QuestionRow, ...]:
    """The rows of GET /v1/questions."""
    readings = {row.pointer: row for row in reading_list(language)}
    return tuple(_row(row, readings[row.pointer], language) for row in question_rows().values())


def _row(row: QuestionRow, reading: declared.ReadingRow, language: str) -> declared.QuestionRow:
    kind, said = YES_NO if row.symptoms else reading.answer, text(language, "questions", row.code)
    return declared.QuestionRow(
        code=row.code,
        title=said["text"],
        since="1.0.0",
        why=said["why"],
        safety=row.safety,
        pointer=row.pointer,
        answer=kind,
        answers=_answers(row, kind, reading),
    )


def _answers(row: QuestionRow, kind: str, reading: declared.ReadingRow) -> tuple[declared.QuestionAnswer, ...]:
    if kind == YES_NO:
        words = (("yes", None, True), ("no", None, False))
        return tuple(declared.QuestionAnswer(word, title, _patches(row, said)) for word, title, said in words)
    return tuple(
        declared.QuestionAnswer(
            each.word, each.title, _patches(row, (each.word,) if kind == "choices" else each.word)
        )
        for each in reading.words
    )


def _patches(row: QuestionRow, said: object) -> tuple[declared.QuestionPatch, ...]:
    return tuple(declared.QuestionPatch("add", str(patch["path"]), patch["value"]) for patch in row.patch(said))
