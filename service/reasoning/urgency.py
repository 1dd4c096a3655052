"""How soon somebody must come, and why."""

from collections.abc import Sequence

from service.results.finding import Finding, State
from service.results.visit import Visit

NO_COOLING = frozenset(
    {"not_cooling", "no_start", "hums_no_start", "warm_air", "thermostat_blank", "breaker_trips"}
)
DANGER = frozenset({"burnt_smell", "refrigerant_smell_or_hiss", "breaker_trips"})
DAMAGE = frozenset({"water_leak", "ice_on_line", "will_not_shut_off", "outdoor_fan_stopped", "indoor_fan_stopped"})
FADING = frozenset({"poor_cooling", "short_cycling", "runs_constantly", "weak_airflow", "fault_code_shown"})


def how_urgent(visit: Visit, state: str, permission: str, findings: Sequence[Finding]) -> tuple[str, str]:
    """(urgency, code of the sentence that gives the reason).

    now: something can hurt; same_day: no cooling, damage, or people at risk; next_day: it cools, but poorly or at
    the cost of damage; scheduled: nothing presses. What was found sound is not urgent, whatever was reported.
    """
    symptoms = set(visit.complaint.symptoms)
    no_cooling = bool(symptoms & NO_COOLING) or (permission == "keep_off" and state == "fault")
    at_risk = bool(visit.complaint.people_at_risk)
    failed = state == "fault" or any(item.state is State.FAIL for item in findings)
    grades = (
        (state == "unsafe" or (state != "sound" and bool(symptoms & DANGER)), "now", "danger"),
        (state == "sound", "scheduled", "nothing-presses"),
        (at_risk, "now" if no_cooling else "same_day", "people-at-risk"),
        (no_cooling, "same_day", "no-cooling"),
        (bool(symptoms & DAMAGE), "same_day", "damage"),
        (failed, "next_day", "fault"),
        (bool(symptoms & FADING), "next_day", "poor-cooling"),
        (True, "scheduled", "nothing-presses"),
    )
    return next((urgency, f"urgency.{reason}") for holds, urgency, reason in grades if holds)
