"""How soon somebody must come, and why."""

from service.knowledge.catalogues import symptoms as symptom_rows
from service.reasoning.case import Case
from service.results.finding import State


def how_urgent(case: Case) -> tuple[str, str]:
    """(urgency, code of the sentence that gives the reason).

    now: something can hurt; same_day: no cooling, damage, or people at risk; next_day: it cools, but poorly or at
    the cost of damage; scheduled: nothing presses. What was found sound is not urgent, whatever was reported.
    """
    state, complaint = case.decision.state, case.visit.complaint
    presses = {word for symptom in complaint.symptoms for word in symptom_rows()[symptom].presses}
    no_cooling = "no_cooling" in presses or (case.decision.permission == "keep_off" and state == "fault")
    failed = state == "fault" or any(item.state is State.FAIL for item in case.findings)
    grades = (
        (state == "unsafe" or (state != "sound" and "danger" in presses), "now", "danger"),
        (state == "sound", "scheduled", "nothing-presses"),
        (bool(complaint.people_at_risk), "now" if no_cooling else "same_day", "people-at-risk"),
        (no_cooling, "same_day", "no-cooling"),
        ("damage" in presses, "same_day", "damage"),
        (failed, "next_day", "fault"),
        ("fading" in presses, "next_day", "poor-cooling"),
        (True, "scheduled", "nothing-presses"),
    )
    return next((urgency, f"urgency.{reason}") for holds, urgency, reason in grades if holds)
