"""What is kept of a judged visit: one flat row, codes and numbers, no text of anybody's but the reference.

Left out on purpose: where the unit stands, who is at risk there, readings, nameplate, and every sentence.
"""

from __future__ import annotations

import json
from typing import Any

import pyarrow as pa

from service.library import Answered, Assessed
from service.results.answer import Answer
from service.results.finding import State
from service.results.record import Record
from service.results.visit import Visit
from service.wire.batch_lines import problem_of, reference_of
from service.wire.problems import ProblemError, document
from service.wire.responding import encode
from service.workshop.fleet.rows import Row

TEXTS = pa.list_(pa.string())
CAUSES = pa.list_(pa.struct([("code", pa.string()), ("share", pa.float64())]))
COLUMNS: dict[str, pa.DataType] = {
    "file": pa.string(),
    "row": pa.int64(),
    "reference": pa.string(),
    "status": pa.int16(),
    "problem": pa.string(),
    "errors": TEXTS,
    "problem_document": pa.string(),
    "month": pa.string(),
    "kind": pa.string(),
    "refrigerant": pa.string(),
    "efficiency_class": pa.string(),
    "metering_device": pa.string(),
    "symptoms": TEXTS,
    "outcome": pa.string(),
    "run_permission": pa.string(),
    "disposition": pa.string(),
    "urgency": pa.string(),
    "cause": pa.string(),
    "share": pa.float64(),
    "causes": CAUSES,
    "holds": TEXTS,
    "failed": TEXTS,
    "doubtful": TEXTS,
    "next_reading": pa.string(),
    "steps": TEXTS,
    "parts": TEXTS,
    "minutes_low": pa.float64(),
    "minutes_high": pa.float64(),
}
ANSWER = "answer"


class Wanted(Record):
    """What goes into a row. visit: column or member of the visit document. keep: the owner's columns, as text.
    answers: the whole answer too, as JSON in the column `answer`. reference: the caller's reference too.
    """

    visit: str = "visit"
    keep: tuple[str, ...] = ()
    answers: bool = False
    reference: bool = True
    language: str = "en"

    def schema(self) -> pa.Schema:
        """The columns of the output file."""
        found = [(name, kind) for name, kind in COLUMNS.items() if self.reference or name != "reference"]
        found += [(name, pa.string()) for name in self.keep]
        return pa.schema(found + [(ANSWER, pa.string())] * self.answers)


def flat(file: str, row: Row, found: Answered | None, wanted: Wanted) -> dict[str, Any]:
    """The row of a judged or refused visit; absent columns are null."""
    values: dict[str, Any] = {"file": file, "row": row.number, **row.beside}
    if wanted.reference:
        values["reference"] = reference_of(row.content or {})
    if not isinstance(found, Assessed):
        problem = problem_of(found) if found is not None else row.problem
        assert problem is not None
        return values | _refused(file, row.number, problem)
    values |= {"status": 200, **_circumstances(found.visit), **_judgement(found.answer)}
    if wanted.answers:
        values[ANSWER] = encode(found.document(wanted.language)).decode()
    return values


def _refused(file: str, number: int, problem: ProblemError) -> dict[str, Any]:
    said = document(problem, "") | {"instance": f"{file}#row={number}"}
    return {
        "status": problem.kind.status,
        "problem": problem.kind.code,
        "errors": [f"{error.pointer} {error.code}".strip() for error in problem.errors],
        "problem_document": json.dumps(said, ensure_ascii=False),
    }


def _circumstances(visit: Visit) -> dict[str, Any]:
    equipment = visit.equipment
    return {
        "month": visit.visit_date[:7] if visit.visit_date is not None else None,
        "kind": equipment.kind,
        "refrigerant": equipment.refrigerant_named,
        "efficiency_class": equipment.efficiency_class,
        "metering_device": equipment.metering_device,
        "symptoms": list(visit.complaint.symptoms),
    }


def _judgement(answer: Answer) -> dict[str, Any]:
    outcome = answer.outcome
    assert outcome is not None
    return {
        "outcome": outcome.state,
        "run_permission": outcome.run_permission,
        "disposition": outcome.disposition,
        "urgency": outcome.urgency,
        "cause": answer.causes[0].code,
        "share": answer.causes[0].probability,
        "causes": [{"code": cause.code, "share": cause.probability} for cause in answer.causes],
        "holds": [hold.code for hold in answer.holds],
        "failed": [item.code for item in answer.findings if item.state is State.FAIL],
        "doubtful": [item.code for item in answer.findings if item.state is State.REVIEW],
        "next_reading": answer.next_readings[0].pointer if answer.next_readings else None,
        "steps": [step.code for step in answer.next_steps],
        "parts": [part.code for part in outcome.parts],
        "minutes_low": outcome.minutes.low,
        "minutes_high": outcome.minutes.high,
    }
