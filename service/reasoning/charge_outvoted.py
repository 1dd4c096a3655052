"""A charge status that all running readings together speak against is withdrawn.

Superheat or subcooling alone reads a blocked outdoor coil, foreign gas or a weak pump as a wrong charge. The
status stands only where nothing else in the readings speaks; the cycle model hears all of them at once.
"""

from dataclasses import replace

from service.reasoning.cycle_findings import CONVINCING
from service.results.computed import ChargeComputed, Computed
from service.results.cycle import CycleVerdict
from service.results.finding import Finding, State
from service.verdicts.report import Checked, report

STEADY, UNDECIDED = "steady", "undecided"
CHARGE = ("none_found", "undercharge", "overcharge")
STATUSES = ("charge.undercharged", "charge.overcharged")


def without_outvoted_charge(cooling: Checked, verdict: CycleVerdict | None) -> Checked:
    """The cooling side, its charge undecided where the cycle model is convinced of something other than charge."""
    accused = [item for item in cooling.findings if item.code in STATUSES and item.state is State.FAIL]
    if not accused or not _convinced_of_another(verdict) or not isinstance(cooling.computed, Computed):
        return cooling
    kept = tuple(item for item in cooling.findings if item.code not in STATUSES)
    computed = replace(cooling.computed, charge=ChargeComputed(UNDECIDED))
    return replace(cooling, findings=(*kept, _undecided(accused[0])), computed=computed)


def _convinced_of_another(verdict: CycleVerdict | None) -> bool:
    if verdict is None or verdict.state != STEADY or not verdict.probabilities:
        return False
    leading, share = verdict.probabilities[0]
    return leading not in CHARGE and share >= CONVINCING


def _undecided(accused: Finding) -> Finding:
    return report("charge.correct", State.UNDECIDED, accused.evidence, variant="other-cause")
