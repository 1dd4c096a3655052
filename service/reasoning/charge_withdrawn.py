"""A charge status that the readings together speak against is withdrawn, and no charge is moved on it.

Superheat or subcooling alone reads a blocked outdoor coil, foreign gas, low airflow or a weak pump as a wrong
charge, and an ordinary unit that differs from its target as well. The status and its direction stand only while
the cause of that very direction leads.
"""

from service.knowledge.catalogues import FindingRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.case import Case
from service.reasoning.proof import is_read
from service.results.computed import ChargeComputed, Computed
from service.results.finding import State
from service.results.record import replace
from service.verdicts.report import report

UNDECIDED = "undecided"


def withdraw_charge(case: Case) -> Case:
    """The case without a charge status of another direction than the leading cause's."""
    accused = [
        item for item in case.findings if finding_rows()[item.code].withdrawn_as and item.state is State.FAIL
    ]
    if not accused or not _another_leads(case, finding_rows()[accused[0].code]):
        return case
    first = accused[0]
    kept = tuple(item for item in case.findings if not finding_rows()[item.code].stands_for)
    variant = "none-leads" if cause_rows()[case.lead.code].sound else "other-cause"
    instead = report(finding_rows()[first.code].withdrawn_as, State.UNDECIDED, first.evidence, variant=variant)
    computed = case.computed
    if isinstance(computed, Computed):
        computed = replace(computed, charge=ChargeComputed(UNDECIDED))
    return replace(case, findings=(*kept, instead), computed=computed)


def _another_leads(case: Case, accused: FindingRow) -> bool:
    """Whether readings speak for a leading cause that asks for another direction, or for none."""
    lead = cause_rows()[case.lead.code]
    return lead.charge != cause_rows()[accused.stands_for].charge and (lead.sound or is_read(case.lead))
