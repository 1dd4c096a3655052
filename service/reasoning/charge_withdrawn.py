"""A charge status that the readings together speak against is withdrawn, and no charge is added on it.

Superheat or subcooling alone reads a blocked outdoor coil, foreign gas, low airflow or a weak pump as a wrong
charge. The status stands only while nothing else leads, and nothing is added while the head pressure is high.
"""

from dataclasses import replace

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.case import Case
from service.reasoning.proof import is_likely
from service.results.changed import changed
from service.results.computed import ChargeComputed, Computed
from service.results.finding import State
from service.verdicts.report import report

UNDECIDED = "undecided"


def withdraw_charge(case: Case) -> Case:
    """The case without the charge status that another leading cause explains."""
    accused = [item for item in case.findings if finding_rows()[item.code].stands_for and item.state is State.FAIL]
    if not accused or not _another_leads(case):
        return case
    first = accused[0]
    kept = tuple(item for item in case.findings if not finding_rows()[item.code].stands_for)
    instead = report(
        finding_rows()[first.code].withdrawn_as, State.UNDECIDED, first.evidence, variant="other-cause"
    )
    computed = case.computed
    if isinstance(computed, Computed):
        computed = replace(computed, charge=ChargeComputed(UNDECIDED))
    return changed(case, findings=(*kept, instead), computed=computed)


def _another_leads(case: Case) -> bool:
    """Whether a cause that asks for no charge is likely enough to explain the readings instead."""
    return is_likely(case.lead) and not cause_rows()[case.lead.code].charge
