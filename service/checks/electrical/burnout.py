"""How bad a burn-out is, and what it makes necessary."""

from collections.abc import Sequence

from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.report import Checked, report

BASE = "/inspection"
GROUNDED = "insulation.winding-grounded"


def check_burnout(visit: Visit, findings: Sequence[Finding]) -> Checked:
    """Judge the burn-out by ground, oil and acid (B01-B03). findings: of the insulation check.

    Source: US Army TM 5-4120-285-15 (burn-out severity: acid number above 0.05 mg KOH/g, carbon, dark oil).
    """
    kit = _kit(visit)
    acid = None if kit else visit.inspection.acid_test
    grounded = [item for item in findings if item.code == GROUNDED and item.state is State.FAIL]
    if not grounded:
        return Checked(kit + _oil_alone(visit, acid))
    severity = _severity(visit, acid, grounded[0].evidence)
    missing = (Missing(f"{BASE}/acid_test", "burnout.acid-test"),) if acid is None else ()
    return Checked((*kit, severity), missing)


def _kit(visit: Visit) -> tuple[Finding, ...]:
    """A mineral-oil kit says nothing about ester or ether oil, nor the other way round (B03)."""
    oil, kit, result = visit.equipment.oil, visit.inspection.acid_test_kit, visit.inspection.acid_test
    if result is None or kit is None or oil is None or (kit == "mineral") == (oil == "mineral"):
        return ()
    evidence = (f"{BASE}/acid_test", f"{BASE}/acid_test_kit", "/equipment/oil")
    return (report("burnout.acid-test-not-valid", State.UNDECIDED, evidence),)


def _is_dark(visit: Visit) -> bool:
    return visit.inspection.oil_colour in ("dark", "black")


def _evidence(visit: Visit) -> tuple[str, ...]:
    return given(visit.inspection, BASE, ("oil_colour", "acid_test", "acid_test_kit"))


def _severity(visit: Visit, acid: str | None, ground: tuple[str, ...]) -> Finding:
    evidence = ground + _evidence(visit)
    if acid == "fail" or _is_dark(visit):
        return report("burnout.severity", State.FAIL, evidence, variant="severe")
    if acid == "pass" and visit.inspection.oil_colour == "clear":
        return report("burnout.severity", State.REVIEW, evidence, variant="mild")
    return report("burnout.severity", State.UNDECIDED, evidence)


def _oil_alone(visit: Visit, acid: str | None) -> tuple[Finding, ...]:
    """Acid or dark oil without a ground: the oil is judged by itself."""
    if acid is None and visit.inspection.oil_colour is None:
        return ()
    state = State.REVIEW if acid == "fail" or _is_dark(visit) else State.PASS
    return (report("burnout.oil", state, _evidence(visit)),)
