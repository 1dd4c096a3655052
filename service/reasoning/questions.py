"""Questions worth asking by phone, in order of what their answers tell about the cause."""

from service.knowledge.limits import limit
from service.knowledge.questions import QuestionRow, question_rows
from service.reasoning.case import Case
from service.reasoning.next_readings import information, value_at
from service.results.answer import Question
from service.results.visit import Visit

MOST = 6


def questions_worth_asking(case: Case) -> tuple[Question, ...]:
    """Questions by falling information [bit]; those about danger are always among them.

    What the document answers is not asked. Questions about what to load come last.
    """
    shares = {cause.code: cause.probability for cause in case.causes}
    open_rows = [row for row in question_rows().values() if not _answered(row, case.visit)]
    about_cause = [Question(row.code, information(row, shares)) for row in open_rows if not row.loading]
    worth = limit("reasoning.worth-bits").value
    about_cause.sort(key=lambda item: (-item.information_bits, item.code))
    safety = {row.code for row in open_rows if row.safety}
    kept = [item for item in about_cause if item.code not in safety and item.information_bits >= worth][:MOST]
    chosen = {item.code for item in kept} | safety
    return (
        *(item for item in about_cause if item.code in chosen),
        *(Question(row.code, 0.0) for row in open_rows if row.loading),
    )


def _answered(row: QuestionRow, visit: Visit) -> bool:
    if any(symptom in visit.complaint.symptoms for symptom in row.symptoms):
        return True
    return bool(row.pointers) and all(value_at(visit, pointer) is not None for pointer in row.pointers)
