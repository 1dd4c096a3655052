"""Cautions of an answer: what its findings, holds, symptoms and steps call for, gravest first, none twice."""

from collections.abc import Iterable

from service.knowledge.catalogues import cautions as caution_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.kinds import kind_row
from service.knowledge.rule_book import book
from service.knowledge.told import told
from service.reasoning.case import Case
from service.reasoning.motors import turning
from service.results.visit import Visit


def of_place(codes: Iterable[str], visit: Visit) -> tuple[str, ...]:
    """The cautions as they are said at the place of the visit: what tells a rule only where that rule is held."""
    line = book().place(visit.site.jurisdiction).line
    rows = caution_rows()

    def said(code: str) -> str:
        rule = rows[code].rule
        return code if not rule or book().rules[rule].jurisdiction in line else rows[code].elsewhere

    return tuple(dict.fromkeys(said(code) for code in codes))


def gather_cautions(case: Case) -> tuple[str, ...]:
    """Caution codes for the whole answer; local codes and licensed practice are always named."""
    rows = caution_rows()
    wanted = {
        code for code, row in rows.items() if row.always or case.visit.site.equipment_location in row.locations
    }
    wanted.update(kind_row(case.visit.equipment.kind).cautions)
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
    placed = of_place(wanted, case.visit)
    return tuple(
        code for code, row in rows.items() if code in placed and (case.flammable or not row.flammable_only)
    )
