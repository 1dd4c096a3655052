"""Cautions of an answer: what its findings, holds, symptoms and steps call for, gravest first, none twice."""

from service.knowledge.catalogues import cautions as caution_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.told import told
from service.reasoning.case import Case
from service.reasoning.motors import turning


def gather_cautions(case: Case) -> tuple[str, ...]:
    """Caution codes for the whole answer; local codes and licensed practice are always named."""
    rows = caution_rows()
    wanted = {
        code for code, row in rows.items() if row.always or case.visit.site.equipment_location in row.locations
    }
    for _, codes in told(case.findings, "cautions"):
        wanted.update(codes)
    for hold in case.holds:
        wanted.update(hold_rows()[hold.code].cautions)
    for step in case.plan.steps:
        wanted.update(step.hazards)
    turns = turning(case)
    for symptom in case.visit.complaint.symptoms:
        row = symptom_rows()[symptom]
        if not turns.issuperset(row.motors):
            wanted.update(row.cautions)
    if case.profile.works:
        # The work itself opens the circuit, whatever its steps say.
        wanted.update(code for code, row in rows.items() if row.flammable_only)
    return tuple(
        code for code, row in rows.items() if code in wanted and (case.flammable or not row.flammable_only)
    )
