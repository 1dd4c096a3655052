"""What the customer reports that may mean danger or damage; reported is not read, so nothing passes or fails."""

from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.verdicts.report import Checked, report

SYMPTOMS = "/complaint/symptoms"
REPORTED = {
    "burnt_smell": "complaint.burnt-smell",
    "breaker_trips": "complaint.breaker-trips",
    "refrigerant_smell_or_hiss": "complaint.refrigerant-escaping",
    "ice_on_line": "complaint.ice",
    "water_leak": "complaint.water",
}


def check_complaint(visit: Visit) -> Checked:
    """Findings about the symptoms that call for care before anybody is there, gravest first."""
    reported = [code for symptom, code in REPORTED.items() if symptom in visit.complaint.symptoms]
    return Checked(tuple(_finding(code, visit) for code in reported))


def _finding(code: str, visit: Visit) -> Finding:
    flammable = code == REPORTED["refrigerant_smell_or_hiss"] and may_be_flammable(visit)
    return report(code, State.REVIEW, (SYMPTOMS,), variant="flammable" if flammable else "")


def may_be_flammable(visit: Visit) -> bool:
    """True unless the refrigerant is known and does not burn: nobody has read the nameplate yet."""
    name = visit.equipment.refrigerant or visit.equipment.nameplate_refrigerant
    try:
        return name is None or find(name).safety_class[1:] != "1"
    except UnknownRefrigerant:
        return True
