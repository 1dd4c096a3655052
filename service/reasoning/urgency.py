"""How soon somebody must come, and why."""

from collections.abc import Iterator

from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.people import people_rows
from service.reasoning.case import Case
from service.results.finding import State
from service.results.visit.observations import Complaint

NOW, SAME_DAY, NEXT_DAY = "now", "same_day", "next_day"
URGENCY = "urgency."


def how_urgent(case: Case) -> tuple[str, str]:
    """(urgency, code of the sentence that gives the reason).

    now: something can hurt; same_day: no cooling, damage, or people at risk; next_day: it cools, but poorly or at
    the cost of damage; scheduled: nothing presses. What was found sound is not urgent, whatever was reported.
    """
    state, complaint = case.decision.state, case.visit.complaint
    presses = {word for symptom in complaint.symptoms for word in symptom_rows()[symptom].presses}
    no_cooling = "no_cooling" in presses or (case.decision.permission == "keep_off" and state == "fault")
    failed = state == "fault" or any(item.state is State.FAIL for item in case.findings)
    grades: tuple[tuple[bool, str, str], ...] = (
        (state == "unsafe" or (state != "sound" and "danger" in presses), NOW, "danger"),
        (state == "sound", "scheduled", "nothing-presses"),
        *_by_people(complaint, no_cooling, NOW),
        *_by_people(complaint, no_cooling, SAME_DAY),
        (no_cooling, SAME_DAY, "no-cooling"),
        ("damage" in presses, SAME_DAY, "damage"),
        *_by_people(complaint, no_cooling, NEXT_DAY),
        (failed, NEXT_DAY, "fault"),
        ("fading" in presses, NEXT_DAY, "poor-cooling"),
        (True, "scheduled", "nothing-presses"),
    )
    return next((urgency, f"{URGENCY}{reason}") for holds, urgency, reason in grades if holds)


def _by_people(complaint: Complaint, no_cooling: bool, urgency: str) -> Iterator[tuple[bool, str, str]]:
    """Who of those in the building makes it so urgent, gravest first."""
    for row in people_rows().values():
        asked = row.no_cooling if no_cooling else row.otherwise
        yield row.code in complaint.people_at_risk and asked == urgency, urgency, row.reason.removeprefix(URGENCY)
