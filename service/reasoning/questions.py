"""Questions worth asking by phone: danger first, then what tells most about the cause."""

from service.knowledge.limits import limit
from service.knowledge.questions import QuestionRow, question_rows
from service.reasoning.askable import value_at
from service.reasoning.case import Case
from service.reasoning.gained import information
from service.reasoning.holds import ends_call
from service.results.answer import Question
from service.results.visit import Visit

MOST = 6
DANGER, FOLLOWING, TELLING, LOADING = range(4)


def questions_worth_asking(case: Case) -> tuple[Question, ...]:
    """Danger first, then what the reported symptoms call for, then by falling information [bit], loading last.

    Nobody is kept on the line who has to get out. What the document answers is not asked, nor, where the unit is
    to stay off, what it would have to run for.
    """
    if ends_call(case.holds):
        return ()
    shares = {cause.code: cause.probability for cause in case.causes}
    open_rows = [row for row in question_rows().values() if _is_open(row, case)]
    worth = limit("reasoning.worth-bits").value
    places: dict[int, list[Question]] = {place: [] for place in range(LOADING + 1)}
    for row in open_rows:
        asked = Question(row.code, 0.0 if row.loading else information(row, shares))
        place = _place(row)
        if place != TELLING or asked.information_bits >= worth:
            places[place].append(asked)
    for asked_there in (places[DANGER], places[FOLLOWING], places[TELLING]):
        asked_there.sort(key=lambda item: (-item.information_bits, item.code))
    del places[TELLING][MOST:]
    return tuple(item for place in sorted(places) for item in places[place])


def _place(row: QuestionRow) -> int:
    """Where in the call a question comes."""
    if row.safety:
        return DANGER
    return FOLLOWING if row.follows else LOADING if row.loading else TELLING


def _is_open(row: QuestionRow, case: Case) -> bool:
    called = not row.follows or not set(row.follows).isdisjoint(case.visit.complaint.symptoms)
    off = case.decision.permission == "keep_off"
    return called and not (row.runs and off) and not _answered(row, case.visit)


def _answered(row: QuestionRow, visit: Visit) -> bool:
    if any(symptom in visit.complaint.symptoms for symptom in row.symptoms):
        return True
    return bool(row.pointers) and all(value_at(visit, pointer) is not None for pointer in row.pointers)
