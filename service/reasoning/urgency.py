"""How soon somebody must come, and why."""

from collections.abc import Sequence

from service.results.finding import Finding, State
from service.results.visit import Visit

NO_COOLING = frozenset(
    {"not_cooling", "no_start", "hums_no_start", "warm_air", "thermostat_blank", "breaker_trips"}
)
DANGER = frozenset({"burnt_smell", "refrigerant_smell_or_hiss", "breaker_trips"})


def how_urgent(visit: Visit, state: str, permission: str, findings: Sequence[Finding]) -> tuple[str, str]:
    """(urgency, code of the sentence that gives the reason).

    now: something can hurt; same_day: no cooling, or people at risk; next_day: it cools, but poorly or at the
    cost of damage; scheduled: nothing presses.
    """
    symptoms = set(visit.complaint.symptoms)
    no_cooling = bool(symptoms & NO_COOLING) or (permission == "keep_off" and state == "fault")
    if state == "unsafe" or symptoms & DANGER:
        return "now", "urgency.danger"
    if visit.complaint.people_at_risk and (no_cooling or state in ("fault", "undecided")):
        return ("now" if no_cooling else "same_day"), "urgency.people-at-risk"
    if no_cooling and state != "sound":
        return "same_day", "urgency.no-cooling"
    if state == "fault" or any(item.state is State.FAIL for item in findings):
        return "next_day", "urgency.fault"
    return "scheduled", "urgency.nothing-presses"
