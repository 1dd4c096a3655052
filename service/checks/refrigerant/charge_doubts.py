"""What else in the visit moves superheat or subcooling, and so forbids a verdict on charge."""

from collections.abc import Iterable

from service.checks.plausible.readings import is_contradiction
from service.checks.refrigerant.running import HOT_LIQUID
from service.results.finding import Finding, State

# Findings (code: states) that forbid any verdict on charge, and those that forbid one direction only.
ANY = {
    "running.outdoor-fan-off": (State.FAIL, State.UNDECIDED),
    "restriction.drier-drop": (State.FAIL,),
    "restriction.before-port": (State.FAIL, State.REVIEW),
    "standing.non-condensables": (State.FAIL, State.REVIEW),
    "refrigerant.fits-another": (State.REVIEW,),
    "refrigerant.retrofit": (State.UNDECIDED,),
    "compressor.reversing-valve-leak": (State.FAIL,),
    "compressor.pump-down-holds": (State.FAIL,),
    "compressor.weak-pumping": (State.REVIEW,),
    "compressor.no-pressure-difference": (State.REVIEW,),
    "start-up.not-pumping": (State.FAIL, State.UNDECIDED),
    "start-up.rotation": (State.REVIEW,),
    "start-up.motor-idle": (State.FAIL,),
    "start-up.rotor-locked": (State.FAIL,),
    "restriction.starved": (State.REVIEW,),
    "metering.overfed": (State.REVIEW,),
    # RA3.2 (2008) tries the charge only after the airflow; its temperature split test is one way to try that.
    "air.split-high": (State.FAIL,),
    "air.airflow-sufficient": (State.FAIL,),
}
# Too much charge is not called while the air over either coil is in doubt: clean first, then read again.
REMOVE = {
    "air.static-high": (State.FAIL,),
    "air.filter-loaded": (State.REVIEW,),
    "air.indoor-coil-loaded": (State.REVIEW,),
    "inspection.filter-dirty": (State.FAIL,),
    "inspection.indoor-coil-dirty": (State.FAIL,),
    "inspection.outdoor-coil-dirty": (State.FAIL,),
    "inspection.valve-bulb": (State.FAIL,),
}


def speaking_against(findings: Iterable[Finding], direction: str) -> tuple[Finding, ...]:
    """Those of the findings that forbid a verdict in that direction (add, remove, none)."""
    forbidding = ANY | (REMOVE if direction == "remove" else {})
    return tuple(
        finding
        for finding in findings
        if finding.state in forbidding.get(finding.code, ())
        or is_contradiction(finding)
        or (direction == "remove" and _heat_is_not_leaving(finding))
    )


def _heat_is_not_leaving(finding: Finding) -> bool:
    """High condensing with hot liquid: the outdoor coil or its air, before anything is said of too much charge."""
    return finding.variant == HOT_LIQUID and finding.state is State.FAIL
