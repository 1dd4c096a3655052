"""A danger that the customer reports keeps the unit off until what was read clears it."""

from collections.abc import Sequence

from service.checks.seen.complaint import may_be_flammable
from service.knowledge.complaint_checks import clearing_checks
from service.results.finding import Finding, State
from service.results.visit import Visit

CLEARED_BY_CHECKS = ("burnt_smell", "breaker_trips")
ESCAPING = "refrigerant_smell_or_hiss"


def danger_reported(visit: Visit, findings: Sequence[Finding]) -> bool:
    """True while a burnt smell or a tripping breaker is not cleared, or what may burn may be escaping."""
    symptoms = visit.complaint.symptoms
    reported = [symptom for symptom in CLEARED_BY_CHECKS if symptom in symptoms]
    if reported:
        passed = {item.code for item in findings if item.state is State.PASS}
        groups = [group for symptom in reported for group in clearing_checks(symptom)]
        if any(passed.isdisjoint(group) for group in groups):
            return True
    return ESCAPING in symptoms and may_be_flammable(visit)
