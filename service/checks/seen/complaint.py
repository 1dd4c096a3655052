"""What the customer reports that may mean danger or damage; reported is not read, so nothing passes or fails."""

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.results.finding import Finding, State
from service.results.pointers import present_pointers
from service.results.visit import Visit
from service.verdicts.refrigerant_held import may_be_flammable
from service.verdicts.report import Checked, report

SYMPTOMS = "/complaint/symptoms"
TAKEN_THERE = ("/electrical", "/isolation", "/inspection", "/standing", "/start_up", "/running", "/air")


def check_complaint(visit: Visit) -> Checked:
    """Findings about the symptoms that call for care, gravest first.

    Before anybody is there a reported danger is a hazard of its own; on site the readings say what it is. What is
    a fault in cooling may be ordinary in heating.
    """
    there = any(pointer.startswith(TAKEN_THERE) for pointer in present_pointers(visit))
    rows = [row for row in symptom_rows().values() if row.finding and row.code in visit.complaint.symptoms]
    return Checked(tuple(_finding(row.finding, visit, there) for row in rows))


def _finding(code: str, visit: Visit, there: bool) -> Finding:
    if code == symptom_rows()["refrigerant_smell_or_hiss"].finding and may_be_flammable(visit):
        return report(code, State.REVIEW, (SYMPTOMS,), variant="flammable")
    holding = (("on-site", there), ("heating", visit.equipment.mode == "heating"))
    differs = {key.partition("/")[2] for key in finding_rows()[code].run}
    return report(
        code,
        State.REVIEW,
        (SYMPTOMS,),
        variant=next((name for name, holds in holding if holds and name in differs), ""),
    )
