"""Cautions of an answer: what its findings, holds and steps call for, gravest first, none twice."""

from collections.abc import Sequence

from service.knowledge.catalogues import cautions as caution_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.results.answer import Hold, Step
from service.results.finding import Finding
from service.results.visit import Visit

LOCAL_CODES = "caution.local-codes"
FLAMMABLE = "caution.flammable-refrigerant"
UP_HIGH = ("roof", "attic")


def gather_cautions(
    visit: Visit,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    steps: Sequence[Step],
    flammable: bool,
    *,
    opens_circuit: bool = False,
    hums: bool = False,
) -> tuple[str, ...]:
    """Caution codes for the whole answer; local codes and licensed practice are always named.

    flammable: whether the refrigerant burns; its cautions are out of place with one that does not. opens_circuit:
    the work itself opens the circuit, whatever its steps say. hums: the compressor hums and does not turn.
    """
    wanted = {LOCAL_CODES}
    for finding in findings:
        wanted.update(finding_rows()[finding.code].cautions.get(finding.state, ()))
    for hold in holds:
        wanted.update(hold_rows()[hold.code].cautions)
    for step in steps:
        wanted.update(step.hazards)
    if visit.site.equipment_location in UP_HIGH:
        wanted.add("caution.roof-and-ladder")
    if hums:
        wanted.add("caution.limit-start-attempts")
    if opens_circuit:
        wanted.add(FLAMMABLE)
    if not flammable:
        wanted.discard(FLAMMABLE)
    return tuple(code for code in caution_rows() if code in wanted)
